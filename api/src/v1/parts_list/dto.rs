//! What goes over the wire.

use chrono::NaiveDate;
use domain::planter::inspection::Action;
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::v1::inspections::InspectionItemCode;

/// What kind of thing is to be done: `buy` a part, have a `service` done, or `adjust` something, with
/// nothing to buy at first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PartAction {
    /// Buy a part.
    Buy,
    /// Have something done.
    Service,
    /// Set or tighten something.
    Adjust,
}

impl From<Action> for PartAction {
    fn from(action: Action) -> Self {
        match action {
            Action::Buy { .. } | Action::BuySpikedWheels => Self::Buy,
            Action::Service(_) => Self::Service,
            Action::Adjust(_) => Self::Adjust,
        }
    }
}

/// When a part is due: an inspection found it worn out (`now`), or it reaches its limit within what is
/// planned (`this_season`).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PartDue {
    /// An inspection found it worn out.
    Now,
    /// It reaches its limit within what is planned.
    ThisSeason,
}

/// The list for the shed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "item": "opener_diameter", "words": "opener disc with bearing", "action": "buy", "count": 4,
        "for": [{
            "planter_id": "01964f1e-6a00-7000-8000-000000000005", "planter": "The eight-row",
            "rows": [3, 4], "count": 4, "due": "now", "since": "2027-03-12",
            "why": "Diameter of the opener discs, rows 3 and 4",
            "price_each": 41.5, "price": 166, "currency": "USD"
        }],
        "left_off": 0
    }],
    "prices": [{"currency": "USD", "sum": 166}],
    "without_price": 0,
    "planters": 1
})))]
pub struct PartsList {
    /// What to buy or to have done, front to back, each for all planters together.
    #[schema(max_items = 100)]
    pub items: Vec<PartLine>,
    /// What the parts with a price come to, by currency.
    #[schema(max_items = 200)]
    pub prices: Vec<PartPrice>,
    /// Places of the list that have no price.
    #[schema(minimum = 0, example = 0)]
    pub without_price: u32,
    /// Planters that have something on the list.
    #[schema(minimum = 0, example = 1)]
    pub planters: u32,
}

/// A line of the list.
#[derive(Debug, Serialize, ToSchema)]
pub struct PartLine {
    /// The item of the checklist.
    pub item: InspectionItemCode,
    /// What to ask for, or what to do.
    #[schema(example = "opener disc with bearing")]
    pub words: String,
    /// What kind of thing it is.
    pub action: PartAction,
    /// How many parts, over all planters; 0 where nothing is bought.
    #[schema(minimum = 0, example = 4)]
    pub count: u32,
    /// For which planters and rows.
    #[schema(max_items = 1000)]
    pub r#for: Vec<PartPlace>,
    /// Planters that found no room in `for`; they are counted.
    #[schema(minimum = 0, example = 0)]
    pub left_off: u32,
}

/// For which planter and rows.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PartPlace {
    /// The planter.
    pub planter_id: Uuid,
    /// Its name.
    #[schema(example = "The eight-row")]
    pub planter: String,
    /// Rows; empty for what the planter has once.
    #[schema(max_items = 64, example = json!([3, 4]))]
    pub rows: Vec<u16>,
    /// How many parts; 0 where nothing is bought.
    #[schema(minimum = 0, example = 4)]
    pub count: u32,
    /// When it is due.
    pub due: PartDue,
    /// The day of the inspection that says so.
    #[schema(example = "2027-03-12")]
    pub since: NaiveDate,
    /// Why.
    #[schema(example = "Diameter of the opener discs, rows 3 and 4")]
    pub why: String,
    /// Price of one part, as it was entered with the limits of the planter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 100_000, example = 41.5)]
    pub price_each: Option<f64>,
    /// Price of all of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, example = 166)]
    pub price: Option<f64>,
    /// Currency of the price (ISO 4217).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "USD")]
    pub currency: Option<String>,
}

/// A sum of prices.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"currency": "USD", "sum": 166})))]
pub struct PartPrice {
    /// The currency (ISO 4217).
    #[schema(example = "USD")]
    pub currency: String,
    /// The sum.
    #[schema(minimum = 0, example = 166)]
    pub sum: f64,
}

/// Of which planters.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct PartsListFilter {
    /// Only of this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// Only of the planters of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
}
