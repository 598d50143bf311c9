//! What goes over the wire beside the observation and the answer.

use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};

pub use super::answer::DigCheck;
pub use super::observation::DigCheckIn;
use crate::v1::units::Units;

/// A page of dig checks.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [super::answer::example()],
    "next_cursor": "01964f1e-6a00-7000-8000-000000000041"
})))]
pub struct DigCheckPage {
    /// The dig checks of this page, in the order in which they came in.
    #[schema(max_items = 200)]
    pub items: Vec<DigCheck>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "01964f1e-6a00-7000-8000-000000000041")]
    pub next_cursor: Option<String>,
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
    #[param(nullable = false, format = Uuid)]
    pub cursor: Option<String>,
}
