//! Land, hours and prices.

use serde::{Deserialize, Serialize};

use crate::quantity::{Area, Time};

/// Land, hours and prices, where they are known. Nothing is made up.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct MoneyAndTime {
    /// Plantings that were reported.
    pub plantings: u32,
    /// Land that was planted.
    pub planted: Area,
    /// Plantings whose hours were reported.
    pub plantings_with_hours: u32,
    /// The land of these.
    pub planted_with_hours: Area,
    /// Their hours.
    pub hours: Time,
    /// Prices that somebody entered, added up.
    pub money: Vec<MoneyLine>,
}

/// Money, from prices that were entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MoneyLine {
    /// What for.
    pub words: String,
    /// Code of the currency (ISO 4217).
    pub currency: String,
    /// How much.
    pub amount: f64,
    /// Entries behind it.
    pub entries: u32,
}
