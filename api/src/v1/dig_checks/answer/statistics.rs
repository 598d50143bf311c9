//! What the depths say, in the caller's units. Rows are the units, not seeds.

use domain::dig::{AboveFloor, DepthSpread, DepthStatistics, RowsMean, Settled, Share};
use serde::Serialize;
use utoipa::ToSchema;

use super::rows::{RowDepthOut, SetAsideOut};
use crate::http::quantity::Quantity;
use crate::v1::dig_checks::words::DepthSide;
use crate::v1::recommendations::show::{Show, share};

/// What the depths of a dig say.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigDepth)]
pub struct DepthOut {
    /// The depth that was wanted.
    pub target: Quantity,
    /// How far from it a seed may lie.
    pub tolerance: Quantity,
    /// Seeds that were measured.
    #[schema(minimum = 1, example = 20)]
    pub seeds: u32,
    /// Mean of all seeds.
    pub mean: Quantity,
    /// Standard deviation of all seeds; absent with a single seed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// Share of the seeds within tolerance.
    pub within: ShareOut,
    /// Share of corn seeds that lie too shallow to root well; absent for other crops.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub above_floor: Option<AboveFloorOut>,
    /// Whether the dig settles where the mean lies.
    pub settled: SettledOut,
    /// The mean of the rows that speak for the planter, each row counted once.
    pub planter: RowsMeanOut,
    /// Spread between and within those rows.
    pub spread: DepthSpreadOut,
    /// Row by row.
    #[schema(max_items = 64)]
    pub rows: Vec<RowDepthOut>,
    /// Rows that do not speak for the planter: they are a matter of their own.
    #[schema(max_items = 64)]
    pub set_aside: Vec<SetAsideOut>,
}

impl DepthOut {
    pub(super) fn of(it: DepthStatistics, show: Show) -> Self {
        let DepthStatistics {
            target,
            tolerance,
            seeds,
            mean,
            sd,
            within,
            above_floor,
            planter,
            spread,
            rows,
            set_aside,
            settled,
        } = it;
        Self {
            target: show.found(target),
            tolerance: show.found(tolerance),
            seeds,
            mean: show.found(mean),
            sd: sd.map(|it| show.found(it)),
            within: ShareOut::of(within),
            above_floor: above_floor.map(|it| AboveFloorOut::of(it, show)),
            settled: SettledOut::of(settled),
            planter: RowsMeanOut::of(planter, show),
            spread: DepthSpreadOut::of(spread, show),
            rows: rows.into_iter().map(|it| RowDepthOut::of(it, show)).collect(),
            set_aside: set_aside.into_iter().map(|it| SetAsideOut::of(it, show)).collect(),
        }
    }
}

/// A counted share with its 95 % limits (Wilson).
///
/// Readings of one row resemble each other, so that the limits rest on `worth`, not on `of`. Where a
/// single row was measured they hold for that row only.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigShare, examples(json!({
    "share": 0.6, "low": 0.36, "high": 0.8, "of": 20, "worth": 15.4
})))]
pub struct ShareOut {
    /// The share that was seen, 0 to 1.
    #[schema(minimum = 0, maximum = 1, example = 0.6)]
    pub share: f64,
    /// Low limit.
    #[schema(minimum = 0, maximum = 1, example = 0.36)]
    pub low: f64,
    /// High limit.
    #[schema(minimum = 0, maximum = 1, example = 0.8)]
    pub high: f64,
    /// How many were counted.
    #[schema(example = 20)]
    pub of: u32,
    /// How many independent ones they are worth: readings of one row resemble each other.
    #[schema(minimum = 1, example = 15.4)]
    pub worth: f64,
}

impl ShareOut {
    pub(super) fn of(it: Share) -> Self {
        let Share { share: seen, low, high, of, worth } = it;
        Self { share: share(seen), low: share(low), high: share(high), of, worth: share(worth) }
    }
}

/// Corn that lies too shallow to root well.
#[derive(Debug, Serialize, ToSchema)]
pub struct AboveFloorOut {
    /// The least depth.
    pub floor: Quantity,
    /// Share of the seeds shallower than that.
    pub share: ShareOut,
}

impl AboveFloorOut {
    fn of(it: AboveFloor, show: Show) -> Self {
        let AboveFloor { floor, share } = it;
        Self { floor: show.found(floor), share: ShareOut::of(share) }
    }
}

/// Whether a dig settles where the mean depth lies, and how many more rows would.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigSettled, examples(json!({
    "settled": false, "side": "open", "more_rows": 2,
    "words": "not settled: 2 more rows would likely settle it"
})))]
pub struct SettledOut {
    /// Whether the question is answered.
    pub settled: bool,
    /// Where the mean lies.
    pub side: DepthSide,
    /// Rows to dig besides those that were dug; absent where no number of rows is likely to settle
    /// it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, maximum = 64, example = 2)]
    pub more_rows: Option<u16>,
    /// The answer in words.
    #[schema(example = "not settled: 2 more rows would likely settle it")]
    pub words: String,
}

impl SettledOut {
    fn of(it: Settled) -> Self {
        let Settled { settled, side, more_rows, words } = it;
        Self { settled, side: side.into(), more_rows, words: words.into_owned() }
    }
}

/// A mean with rows as units, with its 95 % limits (Student's t, rows - 1 degrees of freedom).
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigRowsMean, examples(json!({
    "mean": {"value": 1.55, "unit": "[in_i]"},
    "low": {"value": 1.48, "unit": "[in_i]"},
    "high": {"value": 1.62, "unit": "[in_i]"},
    "rows": 4
})))]
pub struct RowsMeanOut {
    /// Mean of the row means.
    pub mean: Quantity,
    /// Low limit; absent with one row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub low: Option<Quantity>,
    /// High limit; absent with one row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub high: Option<Quantity>,
    /// Rows that it rests on.
    #[schema(minimum = 1, example = 4)]
    pub rows: u32,
}

impl RowsMeanOut {
    fn of(it: RowsMean, show: Show) -> Self {
        let RowsMean { mean, low, high, rows } = it;
        Self {
            mean: show.found(mean),
            low: low.map(|it| show.found(it)),
            high: high.map(|it| show.found(it)),
            rows,
        }
    }
}

/// Spread of the depth split into its parts, each with 95 % limits; what cannot be told is absent.
///
/// One-way random model with rows as groups. The limits of the spread between rows and of the total
/// are those of the modified large-sample method (Graybill and Wang), on the plain variance of the
/// row means; those within rows come from chi-square; those of the intraclass correlation are exact.
/// A few rows know the spread between rows badly: wide limits are no mistake.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigDepthSpread, examples(json!({
    "between": {"value": 0, "unit": "[in_i]"},
    "between_low": {"value": 0, "unit": "[in_i]"},
    "between_high": {"value": 0.08, "unit": "[in_i]"},
    "between_set_to_zero": true,
    "within": {"value": 0.07, "unit": "[in_i]"},
    "within_low": {"value": 0.05, "unit": "[in_i]"},
    "within_high": {"value": 0.1, "unit": "[in_i]"},
    "total": {"value": 0.07, "unit": "[in_i]"},
    "total_low": {"value": 0.05, "unit": "[in_i]"},
    "total_high": {"value": 0.11, "unit": "[in_i]"},
    "intraclass": 0,
    "intraclass_low": 0,
    "intraclass_high": 0.55
})))]
pub struct DepthSpreadOut {
    /// Standard deviation between rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub between: Option<Quantity>,
    /// Low limit of the spread between rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub between_low: Option<Quantity>,
    /// High limit of the spread between rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub between_high: Option<Quantity>,
    /// Whether the estimate between rows came out negative and was set to 0.
    pub between_set_to_zero: bool,
    /// Standard deviation from seed to seed within a row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub within: Option<Quantity>,
    /// Low limit of the spread within rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub within_low: Option<Quantity>,
    /// High limit of the spread within rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub within_high: Option<Quantity>,
    /// Standard deviation of a seed of any row: both parts together. With one seed a row it is all
    /// that can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Quantity>,
    /// Low limit of the total.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total_low: Option<Quantity>,
    /// High limit of the total.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total_high: Option<Quantity>,
    /// Share of the variance that lies between rows, 0 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.2)]
    pub intraclass: Option<f64>,
    /// Low limit of the intraclass correlation; absent when nothing varies within rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0)]
    pub intraclass_low: Option<f64>,
    /// High limit of the intraclass correlation.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.7)]
    pub intraclass_high: Option<f64>,
}

impl DepthSpreadOut {
    fn of(it: DepthSpread, show: Show) -> Self {
        let DepthSpread {
            between,
            between_low,
            between_high,
            between_set_to_zero,
            within,
            within_low,
            within_high,
            total,
            total_low,
            total_high,
            intraclass,
            intraclass_low,
            intraclass_high,
        } = it;
        let found = |it| show.found(it);
        Self {
            between: between.map(found),
            between_low: between_low.map(found),
            between_high: between_high.map(found),
            between_set_to_zero,
            within: within.map(found),
            within_low: within_low.map(found),
            within_high: within_high.map(found),
            total: total.map(found),
            total_low: total_low.map(found),
            total_high: total_high.map(found),
            intraclass: intraclass.map(share),
            intraclass_low: intraclass_low.map(share),
            intraclass_high: intraclass_high.map(share),
        }
    }
}
