//! Whether a dig settles where the mean depth lies, and how many more rows would.
//!
//! Two stages: the variance of the mean of k rows with n seeds each is `s_b`² / k + `s_w`² / (k n).
//! The rows are counted as for the [plan](super::plan()) of a dig.

use serde::{Deserialize, Serialize};

use super::plan::{
    Asked, CONFIDENCE, RowSeen, SoFar, SpreadSeen, Spreads, rows_within, seeds_of_a_row,
};
use super::statistics::{RowDepths, RowsMean, Wanted};
use crate::provenance::{Coefficients, Text};
use crate::quantity::{Length, Measured};
use crate::stats::{count, mean, sd};

/// Where the mean depth lies against the tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Within tolerance, with its whole interval.
    Inside,
    /// Shallower than the tolerance, with its whole interval.
    Shallow,
    /// Deeper than the tolerance, with its whole interval.
    Deep,
    /// The interval reaches over an edge of the tolerance, or there is none.
    Open,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settled {
    /// Whether the question is answered: anything but open.
    pub settled: bool,
    /// Where the mean lies.
    pub side: Side,
    /// Rows to dig besides those that were dug, where that is likely to settle it.
    pub more_rows: Option<u16>,
    /// The answer in words.
    pub words: Text,
}

/// Judges a mean against the tolerance. `rows` are those that speak for the planter.
pub(super) fn settled(
    planter: &RowsMean,
    rows: &[&RowDepths],
    wanted: &Wanted,
    k: &Coefficients,
) -> Settled {
    let side = side(planter, wanted);
    let (more_rows, words) = match side {
        Side::Inside => (Some(0), Text::Borrowed("the mean lies within tolerance")),
        Side::Shallow => (Some(0), Text::Borrowed("the mean lies too shallow")),
        Side::Deep => (Some(0), Text::Borrowed("the mean lies too deep")),
        Side::Open => open(planter, rows, wanted, k),
    };
    Settled { settled: side != Side::Open, side, more_rows, words }
}

fn side(planter: &RowsMean, wanted: &Wanted) -> Side {
    let slack = Length::from_si(1e-9);
    let shallow_edge = wanted.depth - wanted.tolerance - slack;
    let deep_edge = wanted.depth + wanted.tolerance + slack;
    match (planter.low, planter.high) {
        (Some(low), Some(high)) if low >= shallow_edge && high <= deep_edge => Side::Inside,
        (_, Some(high)) if high < shallow_edge => Side::Shallow,
        (Some(low), _) if low > deep_edge => Side::Deep,
        _ => Side::Open,
    }
}

fn open(
    planter: &RowsMean,
    rows: &[&RowDepths],
    wanted: &Wanted,
    k: &Coefficients,
) -> (Option<u16>, Text) {
    let dug = u16::try_from(rows.len()).unwrap_or(u16::MAX);
    let left = wanted.rows.saturating_sub(dug);
    if planter.rows < 2 {
        // Two more rows are the least that show whether rows differ.
        let more = left.min(2);
        let words = "one row says nothing about the others: there is no interval";
        return (Some(more).filter(|m| *m > 0), Text::Borrowed(words));
    }
    if left == 0 {
        let words = "not settled, and every row was dug: measure more seeds in each row";
        return (None, Text::Borrowed(words));
    }
    let off = (planter.mean.si() - wanted.depth.si()).abs();
    let margin = (off - wanted.tolerance.si()).abs();
    let asked = Asked { half_width: Length::from_si(margin), confidence: CONFIDENCE };
    let seen = seen(rows);
    match rows_within(sd_of_a_row_mean(&seen, k), asked, SoFar::of(&seen), wanted.rows) {
        Some(needed) => {
            let more = needed.saturating_sub(dug).clamp(1, left);
            let rows = if more == 1 { "row" } else { "rows" };
            let words = format!("not settled: {more} more {rows} would likely settle it");
            (Some(more), Text::Owned(words))
        }
        None => (
            None,
            Text::Borrowed(
                "not settled: the mean lies so near the edge of the tolerance that all rows of this planter together do not settle it",
            ),
        ),
    }
}

fn seen(rows: &[&RowDepths]) -> Vec<RowSeen> {
    rows.iter()
        .filter_map(|r| {
            let seeds = count(r.depths.len());
            mean(&r.depths).map(|mean| RowSeen { mean, sd: sd(&r.depths), seeds })
        })
        .collect()
}

/// sqrt(`s_b`² + `s_w`² / n), with the seeds per row of this dig. Few rows say little about how far
/// rows differ, so what they showed is pooled with what is usual.
fn sd_of_a_row_mean(rows: &[RowSeen], k: &Coefficients) -> f64 {
    let seen: Vec<SpreadSeen> = SpreadSeen::of_rows(rows, k).into_iter().collect();
    Spreads::pooled(&seen, k).of_a_row(seeds_of_a_row(rows))
}
