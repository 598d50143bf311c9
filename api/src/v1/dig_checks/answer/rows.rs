//! The depths row by row, and the rows that are a matter of their own.

use domain::dig::{RowDepth, SetAside};
use serde::Serialize;
use utoipa::ToSchema;

use super::statistics::ShareOut;
use crate::http::quantity::{Quantity, six_digits};
use crate::v1::dig_checks::words::SetAsideReason;
use crate::v1::recommendations::show::Show;

/// The depths of one row.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigRowDepth)]
pub struct RowDepthOut {
    /// The row.
    #[schema(minimum = 1, maximum = 64, example = 2)]
    pub row: u16,
    /// Seeds measured in it.
    #[schema(minimum = 1, example = 5)]
    pub seeds: u32,
    /// Their mean.
    pub mean: Quantity,
    /// Their standard deviation; absent with a single seed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// Share within tolerance.
    pub within: ShareOut,
}

impl RowDepthOut {
    pub(super) fn of(it: RowDepth, show: Show) -> Self {
        let RowDepth { row, seeds, mean, sd, within } = it;
        Self {
            row,
            seeds,
            mean: show.found(mean),
            sd: sd.map(|it| show.found(it)),
            within: ShareOut::of(within),
        }
    }
}

/// A row that does not speak for the planter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSetAside, examples(json!({
    "row": 4, "why": "odd", "difference": {"value": -0.6, "unit": "[in_i]"}, "p": 0.01
})))]
pub struct SetAsideOut {
    /// The row.
    #[schema(minimum = 1, maximum = 64, example = 4)]
    pub row: u16,
    /// Why.
    pub why: SetAsideReason,
    /// Its mean less the mean of the others; negative is shallower.
    pub difference: Quantity,
    /// Chance of such a difference without cause, held for the number of rows compared.
    #[schema(minimum = 0, maximum = 1, example = 0.01)]
    pub p: f64,
}

impl SetAsideOut {
    pub(super) fn of(it: SetAside, show: Show) -> Self {
        let SetAside { row, why, difference, p } = it;
        let p = six_digits(p);
        Self { row, why: why.into(), difference: show.found(difference), p }
    }
}
