//! The plan of a dig, on the wire.

use domain::dig;
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, System};
use serde::Serialize;
use utoipa::ToSchema;

use super::mirror::mirror;
use super::recommendations::show::{Show, share};
use super::trace::{Mark, Reason, TraceStep, reasons, steps_of};
use crate::http::quantity::Quantity;

mirror! {
    /// What a plan is for: to find out where the planter stands, at the first dig or after a change
    /// (`afresh`); to settle what the last dig left open with rows that were not dug (`more_rows`);
    /// or with more seeds on the rows that were dug, where no others are left (`more_seeds`).
    DigPurpose = dig::Purpose { Afresh MoreRows MoreSeeds }

    /// Why a row is dug: at the left or right end, where a frame that lifts shows first; behind a
    /// tyre, where soil is packed; between the ends; or because it differed last time.
    RowWhy = dig::RowWhy { LeftEnd RightEnd BehindTyre Inner OddLastTime }
}

/// What to dig.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub struct DigPlanOut {
    /// What it is for.
    pub purpose: DigPurpose,
    /// The plan in words, for somebody with a spade.
    #[schema(
        example = "Dig rows 1, 3, 5, 7 and 8: five seeds each, at least 100 ft (30 m) from where you stopped or turned, on average ground, not on the headland and not in the first pass."
    )]
    pub words: String,
    /// The rows, from the left.
    #[schema(max_items = 64)]
    pub rows: Vec<PlannedRowOut>,
    /// Seeds to dig on each row; 0 where a look at the wheels is enough.
    #[schema(minimum = 0, maximum = 200, example = 5)]
    pub seeds_per_row: u16,
    /// Half the width that was asked for of the interval of the mean depth.
    pub half_width_wanted: Quantity,
    /// Half the width that it will likely have; absent with one row, or where no seed is dug.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub half_width: Option<Quantity>,
    /// Chance, 0 to 1, that the interval comes out no wider than asked for, if rows and seeds lie
    /// apart as assumed; absent where it was not worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.65)]
    pub chance: Option<f64>,
    /// Whether the likely width is as asked for; false where the planter has too few rows for it.
    #[schema(example = true)]
    pub enough: bool,
    /// How far apart rows and seeds were taken to lie.
    pub spreads: DigSpreads,
    /// Where to dig. A second place is there where the rows of the last dig did not agree about the
    /// load.
    #[schema(max_items = 2)]
    pub places: Vec<DigPlaceOut>,
    /// What to look at on each row besides the depth.
    #[schema(max_items = 20)]
    pub look_at: Vec<LookAtOut>,
    /// When to stop before all rows are dug; absent where there is nothing to save.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stop_early: Option<StopEarlyOut>,
    /// Why.
    #[schema(max_items = 20)]
    pub because: Vec<Reason>,
    /// The calculation.
    #[schema(max_items = 20)]
    pub trace: Vec<TraceStep>,
}

/// One row of a plan.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "row": 3, "why": ["behind_tyre", "inner"], "words": "behind a tyre; an inner row, middle",
    "behind_tyre": true, "outer": false, "dug_before": false
})))]
pub struct PlannedRowOut {
    /// The row, counted from 1 at the left end.
    #[schema(minimum = 1, maximum = 64, example = 3)]
    pub row: u16,
    /// Why this one.
    #[schema(max_items = 5)]
    pub why: Vec<RowWhy>,
    /// The same in words.
    #[schema(example = "behind a tyre; an inner row, middle")]
    pub words: String,
    /// Whether it runs behind a tractor or planter tyre.
    #[schema(example = true)]
    pub behind_tyre: bool,
    /// Whether it is an outer row of the bar.
    #[schema(example = false)]
    pub outer: bool,
    /// Whether it was dug last time.
    #[schema(example = false)]
    pub dug_before: bool,
}

/// Standard deviations of depth that a plan rests on.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "between_rows": {"value": 0.06, "unit": "[in_i]"},
    "within_rows": {"value": 0.25, "unit": "[in_i]"},
    "digs": 0, "mark": "assumption", "mark_words": "assumption"
})))]
pub struct DigSpreads {
    /// From row to row.
    pub between_rows: Quantity,
    /// From seed to seed within a row.
    pub within_rows: Quantity,
    /// Digs that they rest on besides what is usual.
    #[schema(example = 0)]
    pub digs: u32,
    /// How they are known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "assumption")]
    pub mark_words: String,
}

/// A place to dig at.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "words": "at least 100 ft (30 m) from where you stopped or turned, on average ground, not on the headland and not in the first pass",
    "because": {
        "text": "far enough behind the stop full speed was held; headland and first pass are left out by common practice",
        "mark": "read", "mark_words": "read in the source",
        "source": "Canola Council of Canada 2010. Seed-depth note (at least 100 ft behind the stop, several rows across the width)"
    }
})))]
pub struct DigPlaceOut {
    /// Where it is.
    #[schema(
        example = "at least 100 ft (30 m) from where you stopped or turned, on average ground, not on the headland and not in the first pass"
    )]
    pub words: String,
    /// Why there.
    pub because: Reason,
}

/// One thing to look at on each row.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "what": "gauge wheels, planter down", "tell": "spin free, turn with effort, or locked"
})))]
pub struct LookAtOut {
    /// What it is.
    #[schema(example = "gauge wheels, planter down")]
    pub what: String,
    /// What it may show.
    #[schema(example = "spin free, turn with effort, or locked")]
    pub tell: String,
}

/// A rule for the field: when the first rows have settled it.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "rows": [1, 3, 5, 8], "factor": 0.92,
    "range_at_least": {"value": 0.03, "unit": "[in_i]"},
    "most": {"value": 0.25, "unit": "[in_i]"},
    "words": "Start with rows 1, 3, 5 and 8. Take the mean of each row, and the mean of those means. Add how far that is off the target to 0.92 times the distance from the shallowest to the deepest row (never less than 0.03 in (1 mm)). If the sum is 0.25 in (6 mm) or less, stop: the mean lies within tolerance."
})))]
pub struct StopEarlyOut {
    /// The rows to start with.
    #[schema(max_items = 64, example = json!([1, 3, 5, 8]))]
    pub rows: Vec<u16>,
    /// Factor of the distance from the shallowest to the deepest row mean.
    #[schema(example = 0.92)]
    pub factor: f64,
    /// What that distance counts for at least: the ruler knows no better.
    pub range_at_least: Quantity,
    /// What the distance times the factor, plus how far the mean is off the target, must not exceed.
    pub most: Quantity,
    /// The rule in words.
    #[schema(
        example = "Start with rows 1, 3, 5 and 8. Take the mean of each row, and the mean of those means."
    )]
    pub words: String,
}

impl DigPlanOut {
    /// A plan in the caller's units.
    pub fn of(plan: dig::DigPlan, show: Show) -> Self {
        let dig::DigPlan {
            purpose,
            rows,
            seeds_per_row,
            half_width_wanted,
            half_width,
            chance,
            enough,
            spreads,
            places,
            look_at,
            stop_early,
            words,
            because,
            trace,
        } = plan;
        Self {
            purpose: purpose.into(),
            words: words.into_owned(),
            rows: rows.into_iter().map(PlannedRowOut::of).collect(),
            seeds_per_row,
            half_width_wanted: show.found(half_width_wanted),
            half_width: half_width.map(|half| show.found(half)),
            chance: chance.map(share),
            enough,
            spreads: DigSpreads::of(&spreads, show),
            places: places.into_iter().map(DigPlaceOut::of).collect(),
            look_at: look_at.into_iter().map(LookAtOut::of).collect(),
            stop_early: stop_early.map(|rule| StopEarlyOut::of(rule, show)),
            because: reasons(because),
            trace: steps_of(trace),
        }
    }
}

impl PlannedRowOut {
    fn of(row: dig::PlannedRow) -> Self {
        let dig::PlannedRow { row, why, words, behind_tyre, outer, dug_before } = row;
        let why = why.into_iter().map(RowWhy::from).collect();
        Self { row, why, words: words.into_owned(), behind_tyre, outer, dug_before }
    }
}

impl DigSpreads {
    fn of(spreads: &dig::Spreads, show: Show) -> Self {
        let dig::Spreads { between, within, digs, mark } = *spreads;
        Self {
            between_rows: show.found(between),
            within_rows: show.found(within),
            digs,
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
        }
    }
}

impl DigPlaceOut {
    fn of(place: dig::DigPlace) -> Self {
        let dig::DigPlace { words, because } = place;
        Self { words: words.into_owned(), because: because.into() }
    }
}

impl LookAtOut {
    fn of(look: dig::LookAt) -> Self {
        let dig::LookAt { what, tell } = look;
        Self { what: what.into_owned(), tell: tell.into_owned() }
    }
}

impl StopEarlyOut {
    fn of(rule: dig::StopEarly, show: Show) -> Self {
        let dig::StopEarly { rows, factor, range_at_least, most, words } = rule;
        Self {
            rows,
            factor,
            range_at_least: show.found(range_at_least),
            most: show.found(most),
            words: words.into_owned(),
        }
    }
}

/// The worked example: the first dig behind eight rows, two of them behind tyres.
fn example() -> DigPlanOut {
    let k = &Coefficients::STANDARD;
    let ask = dig::Ask {
        bar: dig::Bar { rows: 8, tyre_rows: &[3, 6], sections: &[], cleaners: true },
        tolerance: Length::from_si(k.depth_tolerance.value * 0.0254),
        spreads: dig::Spreads::pooled(&[], k),
        confidence: dig::CONFIDENCE,
        dug: &[],
    };
    DigPlanOut::of(dig::plan(&ask, k), Show(System::Us))
}
