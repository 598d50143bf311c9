//! The two ends of an interval.

use domain::dig::Limits;
use domain::quantity::{ArealNumberDensity, Length};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};

/// 95 % limits of a quantity.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigLimits, examples(json!({
    "low": {"value": 5.9, "unit": "[in_i]"}, "high": {"value": 7.1, "unit": "[in_i]"}
})))]
pub struct LimitsOut {
    /// Low limit.
    pub low: Quantity,
    /// High limit.
    pub high: Quantity,
}

impl LimitsOut {
    pub(super) fn of_spacing(it: Limits<Length>, show: Show) -> Self {
        let Limits { low, high } = it;
        Self { low: show.spacing(low), high: show.spacing(high) }
    }

    pub(super) fn of_population(it: Limits<ArealNumberDensity>, show: Show) -> Self {
        let Limits { low, high } = it;
        Self { low: show.population(low), high: show.population(high) }
    }
}

/// 95 % limits of a plain number.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigNumberLimits, examples(json!({"low": 0.12, "high": 0.31})))]
pub struct NumberLimitsOut {
    /// Low limit.
    #[schema(example = 0.12)]
    pub low: f64,
    /// High limit.
    #[schema(example = 0.31)]
    pub high: f64,
}

impl NumberLimitsOut {
    pub(super) fn of(it: Limits<f64>) -> Self {
        let Limits { low, high } = it;
        Self { low: share(low), high: share(high) }
    }
}
