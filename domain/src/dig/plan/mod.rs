//! The protocol of a dig: which rows, how many seeds on each, where, and when to stop.
//!
//! Two stages: rows, then seeds. How far rows and seeds lie apart is what is usual on a sound
//! planter, pooled with what digs showed ([`Spreads`]). The same count of rows says how large a dig
//! should be and how many more rows settle one that was made.

mod bar;
mod look_at;
mod next;
mod place;
mod rows;
mod say;
mod size;
mod spreads;
mod steps;
mod stop_early;
mod wheels;

use serde::{Deserialize, Serialize};

pub use bar::{Bar, DugRow};
pub use look_at::LookAt;
pub use next::{AfterDig, next_dig};
pub use place::DigPlace;
pub use rows::RowWhy;
pub(super) use size::{Asked, SoFar, rows_within};
pub(super) use spreads::{RowSeen, seeds_of_a_row};
pub use spreads::{SpreadSeen, Spreads};
pub use stop_early::StopEarly;
pub use wheels::{WheelsSettled, wheels_settled};

use self::rows::Chosen;
use self::size::{Size, size};
use self::stop_early::{Ruled, stop_early};
use super::say::inches;
use crate::provenance::{Coefficients, Mark, Reason, Text, Trace, sources};
use crate::quantity::Length;

/// How sure the interval of a mean is.
pub const CONFIDENCE: f64 = 0.95;
const INCH: f64 = 0.0254;

/// What a plan is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// To find out where the planter stands: the first dig, or the dig after a change.
    Afresh,
    /// To settle what the last dig left open, with rows that were not dug.
    MoreRows,
    /// To settle it with more seeds on the rows that were dug: no other rows are left.
    MoreSeeds,
}

/// What to dig.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DigPlan {
    /// What it is for.
    pub purpose: Purpose,
    /// The rows, from the left.
    pub rows: Vec<PlannedRow>,
    /// Seeds to dig on each row; 0 where a look at the wheels is enough.
    pub seeds_per_row: u16,
    /// Half the width of the mean's interval that was asked for.
    pub half_width_wanted: Length,
    /// Half the width that it will likely have; none with one row, or where no seed is dug.
    pub half_width: Option<Length>,
    /// Chance that the interval comes out no wider than asked for, if the spreads are as taken.
    pub chance: Option<f64>,
    /// Whether the likely width is as asked for; false where the planter has too few rows.
    pub enough: bool,
    /// The spreads that were taken.
    pub spreads: Spreads,
    /// Where to dig: the second place, where there is one, only if time allows.
    pub places: Vec<DigPlace>,
    /// What to look at on each row besides the depth.
    pub look_at: Vec<LookAt>,
    /// When to stop before all rows are dug.
    pub stop_early: Option<StopEarly>,
    /// The plan in words.
    pub words: Text,
    /// Why.
    pub because: Vec<Reason>,
    /// The calculation.
    pub trace: Trace,
}

/// One row of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlannedRow {
    /// The row, counted from 1 at the left end.
    pub row: u16,
    /// Why this one.
    pub why: Vec<RowWhy>,
    /// The same in words.
    pub words: Text,
    /// Whether it runs behind a tyre.
    pub behind_tyre: bool,
    /// Whether it is an outer row.
    pub outer: bool,
    /// Whether it was dug last time.
    pub dug_before: bool,
}

/// What a plan is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The planter.
    pub bar: Bar<'a>,
    /// How far from the target a seed may lie.
    pub tolerance: Length,
    /// The spreads to plan with.
    pub spreads: Spreads,
    /// How sure the interval of the mean should be, 0 to 1: [`CONFIDENCE`] is what digs are judged
    /// by.
    pub confidence: f64,
    /// The rows that were dug last time.
    pub dug: &'a [DugRow],
}

/// Plans a dig that starts afresh.
pub fn plan(ask: &Ask<'_>, k: &Coefficients) -> DigPlan {
    let wanted = ask.tolerance * k.dig_half_width.value;
    let asked = Asked { half_width: wanted, confidence: ask.confidence };
    let size = size(&ask.spreads, asked, ask.bar.rows, k);
    let chosen = rows::afresh(&ask.bar, ask.dug, size.rows);
    // Rows that are dug again because they were odd do not speak for the planter.
    let speaking: Vec<u16> = chosen.iter().take(usize::from(size.rows)).map(|c| c.row).collect();
    let ruled = Ruled {
        tolerance: ask.tolerance,
        confidence: ask.confidence,
        seeds: size.seeds,
        grain: k.ruler_step.value * INCH,
    };
    let before: Vec<u16> = ask.dug.iter().map(|d| d.row).collect();
    DigPlan {
        purpose: Purpose::Afresh,
        seeds_per_row: size.seeds,
        half_width_wanted: wanted,
        half_width: size.half_width,
        chance: size.chance,
        enough: size.reaches,
        spreads: ask.spreads,
        places: vec![place::first(k)],
        look_at: look_at::everything(&ask.bar),
        stop_early: stop_early(&speaking, ruled),
        words: Text::Owned(words(&chosen, &size, k)),
        because: because(&ask.spreads, &size, k),
        trace: steps::of_plan(ask, asked, &size, k),
        rows: planned(&ask.bar, chosen, &before),
    }
}

/// The rows from the left.
fn planned(bar: &Bar<'_>, chosen: Vec<Chosen>, before: &[u16]) -> Vec<PlannedRow> {
    let mut rows: Vec<PlannedRow> = chosen
        .into_iter()
        .map(|c| {
            let dug_before = before.contains(&c.row);
            PlannedRow {
                row: c.row,
                words: Text::Owned(say::reason(&c, dug_before)),
                why: c.why,
                behind_tyre: bar.behind_tyre(c.row),
                outer: bar.outer_left(c.row) || bar.outer_right(c.row),
                dug_before,
            }
        })
        .collect();
    rows.sort_by_key(|r| r.row);
    rows
}

fn numbers(chosen: &[Chosen]) -> Vec<u16> {
    let mut rows: Vec<u16> = chosen.iter().map(|c| c.row).collect();
    rows.sort_unstable();
    rows
}

fn words(chosen: &[Chosen], size: &Size, k: &Coefficients) -> String {
    let rows = say::list(&numbers(chosen));
    let each = if chosen.len() == 1 { "" } else { " each" };
    let seeds = say::seeds(size.seeds);
    let place = place::first(k).words;
    format!("Dig {rows}: {seeds}{each}, {place}. {}", width(size))
}

fn width(size: &Size) -> String {
    match size.half_width {
        None => "One row says nothing about others: there is no interval.".to_owned(),
        Some(half) if size.reaches => format!(
            "The mean of the planter will then likely be known to within {} either way.",
            inches(half)
        ),
        Some(half) => format!(
            "These are all its rows: the mean will still only be known to within {} either way.",
            inches(half)
        ),
    }
}

fn because(spreads: &Spreads, size: &Size, k: &Coefficients) -> Vec<Reason> {
    let (between, within) = (inches(spreads.between), inches(spreads.within));
    let (from, source) = match spreads.mark {
        Mark::Measured => ("", Text::Borrowed("as entered")),
        Mark::Learned => (
            ", by the digs so far and by what is usual",
            Text::Borrowed("digs on this planter, pooled with what is usual"),
        ),
        _ => (" on a sound planter", k.row_spread.source.clone()),
    };
    let spread = format!(
        "row means differ by {between} and seeds within a row by {within} (standard deviations){from}"
    );
    let work = format!(
        "walking to another row is as much work as digging {:.1} seeds; the mean is then best known for the work with about {:.0} seeds on a row",
        k.dig_row_work.value, size.seeds_at_least_work
    );
    vec![
        place::ROWS,
        Reason::made(spread, spreads.mark, source),
        Reason::made(work, k.dig_row_work.mark, k.dig_row_work.source.clone()),
        Reason::fixed(
            "rows are the units: ten seeds of one row are not ten rows",
            Mark::Derived,
            sources::TWO_STAGE,
        ),
    ]
}
