//! What goes over the wire beside the observation and the answer.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};

pub use super::answer::DigCheck;
pub use super::observation::DigCheckIn;
use crate::http::page::Total;
use crate::v1::units::Units;

/// A page of dig checks.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [super::answer::example()],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct DigCheckPage {
    /// The dig checks of this page, in the order in which they came in.
    #[schema(max_items = 200)]
    pub items: Vec<DigCheck>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which page of the dig checks of a recommendation.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct DigCheckRequest {
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
    /// Only what was made or changed at this time or later, in the order of changes. Ask five
    /// minutes before the time of the walk before: a change may be seen a little late.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-20T12:00:00Z")]
    pub updated_since: Option<DateTime<Utc>>,
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}
