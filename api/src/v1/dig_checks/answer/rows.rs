//! Depths and spacings row by row, and the rows that are a matter of their own.

use domain::dig::{RowDepth, RowSpacing, SetAside};
use serde::Serialize;
use utoipa::ToSchema;

use super::limits::LimitsOut;
use super::spacing::SpacingAgainstOut;
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
    /// Chance that its seeds scatter so much more than those of the other rows without a cause
    /// (one-sided F; with rows of one size this is Cochran's test), held for the number of rows
    /// (Holm). Below 0.05 look for play in the row unit. Absent where it cannot be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.4)]
    pub scatter_p: Option<f64>,
}

impl RowDepthOut {
    pub(super) fn of(it: RowDepth, show: Show) -> Self {
        let RowDepth { row, seeds, mean, sd, within, scatter_p } = it;
        Self {
            row,
            seeds,
            mean: show.found(mean),
            sd: sd.map(|it| show.found(it)),
            within: ShareOut::of(within),
            scatter_p: scatter_p.map(six_digits),
        }
    }
}

/// The spacings of one row. The limits hold for this row: its spacings are the units.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigRowSpacing)]
pub struct RowSpacingOut {
    /// The row.
    #[schema(minimum = 1, maximum = 64, example = 2)]
    pub row: u16,
    /// Spacings measured in it.
    #[schema(minimum = 1, example = 20)]
    pub spacings: u32,
    /// Their mean.
    pub mean: Quantity,
    /// 95 % limits of the mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mean_limits: Option<LimitsOut>,
    /// Their standard deviation; absent with one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// 95 % limits of the standard deviation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd_limits: Option<LimitsOut>,
    /// The indices of this row; absent with fewer than ten spacings or without a wanted spacing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub against: Option<SpacingAgainstOut>,
    /// Whether the spread of this row calls for a look at its meter; never with fewer than ten
    /// spacings.
    pub meter_check: bool,
    /// Chance that its multiples and skips are so much more, or fewer, than in the other rows
    /// without a cause (Fisher's exact test), held for the number of rows (Holm). Absent without
    /// indices or without another row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.01)]
    pub faults_p: Option<f64>,
}

impl RowSpacingOut {
    pub(super) fn of(it: &RowSpacing, show: Show) -> Self {
        let RowSpacing {
            row,
            spacings,
            mean,
            mean_limits,
            sd,
            sd_limits,
            against,
            meter_check,
            faults_p,
        } = *it;
        let limits = |it| LimitsOut::of_spacing(it, show);
        Self {
            row,
            spacings,
            mean: show.spacing(mean),
            mean_limits: mean_limits.map(limits),
            sd: sd.map(|it| show.spacing(it)),
            sd_limits: sd_limits.map(limits),
            against: against.as_ref().map(|it| SpacingAgainstOut::of(it, show)),
            meter_check,
            faults_p: faults_p.map(six_digits),
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
