//! What is asked.

use chrono::NaiveDate;
use domain::conditions::Crop;
use domain::quantity::{ArealNumberDensity, Measured, bounds};
use domain::stand::Money;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::cost;

/// Planting again.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "on": "2027-05-29",
    "seeds": {"value": 32000, "unit": "1/[acr_us]"},
    "expected_yield_bu_ac": 200,
    "money": {"currency": "USD", "price_per_bu": 4.5, "seed_per_ac": 95, "trip_per_ac": 18, "killing_per_ac": 14}
})))]
pub(super) struct ReplantIn {
    /// The day of planting again; not before the count.
    #[schema(example = "2027-05-29")]
    pub on: NaiveDate,
    /// Seeds that would be planted. Bound: `seed_population`.
    pub seeds: Quantity,
    /// The final stand that they would give; worked out from the seeds when absent. Bound:
    /// `seed_population`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub stand: Option<Quantity>,
    /// Yield of the best date and stand, bushels an acre; needed for money.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 400, example = 200)]
    pub expected_yield_bu_ac: Option<f64>,
    /// What the crop earns and planting again costs.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub money: Option<ReplantMoneyIn>,
}

/// What the crop earns and planting again costs, in one currency.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "currency": "USD", "price_per_bu": 4.5, "seed_per_ac": 95, "trip_per_ac": 18, "killing_per_ac": 14
})))]
pub(super) struct ReplantMoneyIn {
    /// Code of the currency (ISO 4217).
    #[schema(min_length = 3, max_length = 3, pattern = "^[A-Z]{3}$", example = "USD")]
    pub currency: String,
    /// Price of a bushel of the crop.
    #[schema(minimum = 0, maximum = 1_000_000, example = 4.5)]
    pub price_per_bu: f64,
    /// Seed for an acre, less what the seller gives back.
    #[schema(minimum = 0, maximum = 1_000_000, example = 95)]
    pub seed_per_ac: f64,
    /// Planting an acre: machine, fuel, work.
    #[schema(minimum = 0, maximum = 1_000_000, example = 18)]
    pub trip_per_ac: f64,
    /// Killing the old stand on an acre.
    #[schema(minimum = 0, maximum = 1_000_000, example = 14)]
    pub killing_per_ac: f64,
    /// What else it costs on an acre.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1_000_000, example = 5)]
    pub other_per_ac: Option<f64>,
}

/// What is asked, checked.
#[derive(Debug)]
pub(super) struct Asked {
    pub on: NaiveDate,
    pub stand: (ArealNumberDensity, ArealNumberDensity, ArealNumberDensity),
    /// Whether the stand was worked out from the seeds.
    pub worked_out: bool,
    pub expected: Option<f64>,
    pub money: Option<(String, Money)>,
}

impl ReplantIn {
    /// The only way from the wire to the domain.
    pub(super) fn parse(self, crop: Crop, counted_on: NaiveDate) -> Result<Asked, ApiError> {
        let Self { on, seeds, stand, expected_yield_bu_ac, money } = self;
        let mut refused = Refused::default();
        refused.take(day(on, counted_on));
        let seeds = refused.take(seeds.parse("/seeds", &bounds::SEED_POPULATION));
        let named = stand.and_then(|it| refused.take(it.parse("/stand", &bounds::SEED_POPULATION)));
        if let (Some(seeds), Some(named)) = (seeds, named)
            && named.si() > seeds.si()
        {
            refused.add(BadMember::new("/stand", "More plants are expected than seeds."));
        }
        let expected = expected_yield_bu_ac.and_then(|bushels| {
            refused.take(amount("/expected_yield_bu_ac", bushels, (1.0, 400.0)))
        });
        if money.is_some() && expected_yield_bu_ac.is_none() {
            let detail = "Money needs the yield that is expected.";
            refused.add(BadMember::new("/expected_yield_bu_ac", detail));
        }
        let money = money.and_then(|it| refused.take_all(it.parse(expected.unwrap_or_default())));
        let Some(seeds) = seeds else { return Err(refused.into()) };
        refused.finish()?;
        let stand = named.map_or_else(|| of_seeds(crop, seeds), |it| (it, it, it));
        Ok(Asked { on, stand, worked_out: named.is_none(), expected, money })
    }
}

impl ReplantMoneyIn {
    fn parse(self, expected_bu: f64) -> Result<(String, Money), Vec<BadMember>> {
        let Self { currency, price_per_bu, seed_per_ac, trip_per_ac, killing_per_ac, other_per_ac } =
            self;
        let mut refused = Refused::default();
        refused.take(cost::currency("/money/currency", &currency));
        let mut take = |name: &str, given: f64| {
            refused.take(amount(&format!("/money/{name}"), given, (0.0, 1e6))).unwrap_or_default()
        };
        let price = take("price_per_bu", price_per_bu);
        let cost = take("seed_per_ac", seed_per_ac)
            + take("trip_per_ac", trip_per_ac)
            + take("killing_per_ac", killing_per_ac)
            + take("other_per_ac", other_per_ac.unwrap_or_default());
        let bad = refused.into_members();
        if bad.is_empty() { Ok((currency, Money { expected_bu, price, cost })) } else { Err(bad) }
    }
}

/// Not before the count, and in the same season.
fn day(on: NaiveDate, counted_on: NaiveDate) -> Result<(), BadMember> {
    let after = on.signed_duration_since(counted_on).num_days();
    if (0..=90).contains(&after) {
        return Ok(());
    }
    let detail = "The day lies before the count, or more than 90 days after it.";
    Err(BadMember::new("/on", detail).given(on))
}

fn amount(pointer: &str, given: f64, (least, most): (f64, f64)) -> Result<f64, BadMember> {
    if (least..=most).contains(&given) {
        return Ok(given);
    }
    let member = BadMember::new(pointer, "The figure is out of range.").given(given);
    Err(member.allowed(format!("{least} to {most}")))
}

/// Low, likely and high stand from seeds. Late corn is seeded 3 to 5 % above the stand that is wanted
/// (Ohio State University); of germinated soybean about 85 % stay, of seed that germinates to 95 %
/// (University of Nebraska, its example).
fn of_seeds(
    crop: Crop,
    seeds: ArealNumberDensity,
) -> (ArealNumberDensity, ArealNumberDensity, ArealNumberDensity) {
    let share = |share: f64| ArealNumberDensity::from_si(seeds.si() * share);
    match crop {
        Crop::Corn => (share(1.0 / 1.05), share(1.0 / 1.04), share(1.0 / 1.03)),
        Crop::Soybean => (share(0.9 * 0.8), share(0.95 * 0.85), share(0.95 * 0.95)),
    }
}
