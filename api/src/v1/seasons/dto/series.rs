//! The season week by week, seed by depth, load by speed, field by field.

use chrono::NaiveDate;
use domain::quantity::{Length, bounds};
use domain::season::report::{
    DepthBin, DepthDistribution, FieldLine, LoadAtSpeed, SeedCount, Week,
};
use serde::Serialize;
use utoipa::ToSchema;

use super::{FieldShare, SubjectNamed};
use crate::http::quantity::Quantity;
use crate::v1::planters::resistance::dto::{PooledCover, PooledSoil};
use crate::v1::recommendations::show::Show;

/// A week, from Monday.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "starts": "2027-05-03", "issued": 14, "seen": 12, "digs": 31, "proposed": 9, "accepted": 8,
    "in_window": {"count": 18, "of": 31, "share": 0.581, "low": 0.408, "high": 0.736}
})))]
pub struct SeasonWeek {
    /// The Monday.
    #[schema(example = "2027-05-03")]
    pub starts: NaiveDate,
    /// Revisions that were issued.
    #[schema(example = 14)]
    pub issued: u32,
    /// Revisions that somebody confirmed to have seen.
    #[schema(example = 12)]
    pub seen: u32,
    /// Digs.
    #[schema(example = 31)]
    pub digs: u32,
    /// Adjustments that were proposed.
    #[schema(example = 9)]
    pub proposed: u32,
    /// Adjustments that were accepted.
    #[schema(example = 8)]
    pub accepted: u32,
    /// At the end of the week: fields with load and depth in the window at their last dig so far, of
    /// those whose last dig so far tells.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub in_window: Option<FieldShare>,
}

impl From<Week> for SeasonWeek {
    fn from(it: Week) -> Self {
        let Week { starts, issued, seen, digs, proposed, accepted, in_window } = it;
        let in_window = in_window.map(Into::into);
        Self { starts, issued, seen, digs, proposed, accepted, in_window }
    }
}

/// Seeds that were counted. They make no interval: seeds of a row resemble each other.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"count": 812, "of": 1020})))]
pub struct SeedCountOut {
    /// How many.
    #[schema(example = 812)]
    pub count: u64,
    /// Of how many.
    #[schema(example = 1020)]
    pub of: u64,
}

impl From<SeedCount> for SeedCountOut {
    fn from(it: SeedCount) -> Self {
        let SeedCount { count, of } = it;
        Self { count, of }
    }
}

/// Seeds of a bin of depth.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"off": {"value": -0.25, "unit": "[in_i]"}, "first": 41, "last": 12})))]
pub struct DepthBinOut {
    /// The middle of the bin, less the depth that was wanted: negative is too shallow. The first and
    /// the last bin hold what lies beyond.
    pub off: Quantity,
    /// Seeds at the first dig of each field.
    #[schema(example = 41)]
    pub first: u64,
    /// Seeds at the last dig of each field.
    #[schema(example = 12)]
    pub last: u64,
}

/// Where seed lay against where it was wanted.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "bin": {"value": 0.125, "unit": "[in_i]"},
    "bins": [{"off": {"value": -0.25, "unit": "[in_i]"}, "first": 41, "last": 12}],
    "least_tolerance": {"value": 0.25, "unit": "[in_i]"},
    "most_tolerance": {"value": 0.25, "unit": "[in_i]"},
    "first_within": {"count": 612, "of": 1020}, "last_within": {"count": 872, "of": 1010}
})))]
pub struct DepthDistributionOut {
    /// Width of a bin.
    pub bin: Quantity,
    /// The bins with seed, the shallowest first.
    #[schema(max_items = 49)]
    pub bins: Vec<DepthBinOut>,
    /// The narrowest tolerance of the digs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub least_tolerance: Option<Quantity>,
    /// The widest.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub most_tolerance: Option<Quantity>,
    /// Seeds within the tolerance of their dig, at the first dig of each field.
    pub first_within: SeedCountOut,
    /// The same at the last dig of each field.
    pub last_within: SeedCountOut,
}

impl DepthDistributionOut {
    pub(super) fn of(it: DepthDistribution, show: Show) -> Self {
        let DepthDistribution {
            bin,
            bins,
            least_tolerance,
            most_tolerance,
            first_within,
            last_within,
        } = it;
        // To the last digit, so that a bin is where it is.
        let exact = |length: Length| Quantity::show(&bounds::SEED_DEPTH, length, show.0);
        let one = |it: DepthBin| {
            let DepthBin { off, first, last } = it;
            DepthBinOut { off: exact(off), first, last }
        };
        Self {
            bin: exact(bin),
            bins: bins.into_iter().map(one).collect(),
            least_tolerance: least_tolerance.map(|it| show.found(it)),
            most_tolerance: most_tolerance.map(|it| show.found(it)),
            first_within: first_within.into(),
            last_within: last_within.into(),
        }
    }
}

/// Digs of one load at one speed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "speed": {"value": 5, "unit": "[mi_i]/h"}, "load": {"value": 169, "unit": "[lbf_av]"},
    "digs": 6, "inside": 5
})))]
pub struct LoadAtSpeedOut {
    /// The speed, to a quarter mile an hour.
    pub speed: Quantity,
    /// The load on the gauge wheels, to some eleven pounds.
    pub load: Quantity,
    /// Digs.
    #[schema(example = 6)]
    pub digs: u32,
    /// Those of them with the load in the window of their sheet.
    #[schema(example = 5)]
    pub inside: u32,
}

impl LoadAtSpeedOut {
    pub(super) fn of(it: LoadAtSpeed, show: Show) -> Self {
        let LoadAtSpeed { speed, load, digs, inside } = it;
        let speed = Quantity::show(&bounds::GROUND_SPEED, speed, show.0);
        let speed = Quantity { value: (speed.value * 1e2).round() / 1e2, ..speed };
        Self { speed, load: show.load(load), digs, inside }
    }
}

/// A field behind a planter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "field": {"id": "01964f1e-6a00-7000-8000-000000000004", "name": "North forty"},
    "planter": {"id": "01964f1e-6a00-7000-8000-000000000005", "name": "Eight row"},
    "soil": "medium", "cover": "living", "issued": 2, "seen": true, "digs": 3,
    "first_inside": false, "last_inside": true, "last_off": {"value": -0.08, "unit": "[in_i]"}
})))]
pub struct FieldLineOut {
    /// The field.
    pub field: SubjectNamed,
    /// The planter.
    pub planter: SubjectNamed,
    /// The soil at its first dig; `unknown` where nobody dug.
    pub soil: PooledSoil,
    /// The cover at its first dig.
    pub cover: PooledCover,
    /// Revisions that were issued.
    #[schema(example = 2)]
    pub issued: u32,
    /// Whether somebody confirmed to have seen one.
    #[schema(example = true)]
    pub seen: bool,
    /// Digs.
    #[schema(example = 3)]
    pub digs: u32,
    /// Whether load and depth were in the window at the first dig; absent where it does not tell.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = false)]
    pub first_inside: Option<bool>,
    /// The same at the last dig.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = true)]
    pub last_inside: Option<bool>,
    /// Mean depth at the last dig, less the depth that was wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub last_off: Option<Quantity>,
}

impl FieldLineOut {
    pub(super) fn of(it: FieldLine, show: Show) -> Self {
        let FieldLine {
            field,
            planter,
            class,
            issued,
            seen,
            digs,
            first_inside,
            last_inside,
            last_off,
        } = it;
        Self {
            field: field.into(),
            planter: planter.into(),
            soil: class.soil.into(),
            cover: class.cover.into(),
            issued,
            seen,
            digs,
            first_inside,
            last_inside,
            last_off: last_off.map(|it| show.found(it)),
        }
    }
}
