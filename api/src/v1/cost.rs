//! Money that something cost: an amount and its currency.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::BadMember;

/// Most that is taken as one amount.
const MOST: f64 = 10_000_000.0;

/// Money that something cost.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"amount": 386.5, "currency": "USD"})))]
pub struct Cost {
    /// The amount, to hundredths.
    #[schema(minimum = 0, maximum = 10_000_000, example = 386.5)]
    pub amount: f64,
    /// Code of the currency (ISO 4217).
    #[schema(min_length = 3, max_length = 3, pattern = "^[A-Z]{3}$", example = "USD")]
    pub currency: String,
}

impl Cost {
    /// Checks the amount and the code.
    pub fn parse(self, pointer: &str) -> Result<Self, BadMember> {
        if !(0.0..=MOST).contains(&self.amount) {
            let member = BadMember::new(format!("{pointer}/amount"), "The amount is out of range.");
            return Err(member.given(self.amount).allowed("0 to 10000000"));
        }
        let currency = currency(&format!("{pointer}/currency"), &self.currency)?;
        Ok(Self { amount: (self.amount * 100.0).round() / 100.0, currency })
    }

    /// As two columns of a row have it.
    pub fn of_columns(amount: Option<f64>, currency: Option<String>) -> Option<Self> {
        amount.zip(currency).map(|(amount, currency)| Self { amount, currency })
    }
}

/// A code that has the form of ISO 4217.
pub fn currency(pointer: &str, given: &str) -> Result<String, BadMember> {
    if given.len() == 3 && given.bytes().all(|byte| byte.is_ascii_uppercase()) {
        return Ok(given.to_owned());
    }
    let member = BadMember::new(pointer, "This is no code of a currency.");
    Err(member.given(given).allowed("three letters of ISO 4217, as in USD"))
}
