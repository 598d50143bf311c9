//! Whether a dig settles where the mean depth lies, and how many more rows would.
//!
//! Two stages: the variance of the mean of k rows with n seeds each is `s_b`² / k + `s_w`² / (k n).

use serde::{Deserialize, Serialize};

use super::statistics::{DepthSpread, RowDepths, RowsMean, Wanted};
use crate::provenance::Text;
use crate::quantity::{Length, Measured};
use crate::stats::{count, mean, sd, units_needed};

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

/// Judges a mean against the tolerance.
pub(super) fn settled(
    planter: &RowsMean,
    spread: &DepthSpread,
    usual: &[&RowDepths],
    wanted: &Wanted,
    grain: f64,
) -> Settled {
    let side = side(planter, wanted);
    let (more_rows, words) = match side {
        Side::Inside => (Some(0), Text::Borrowed("the mean lies within tolerance")),
        Side::Shallow => (Some(0), Text::Borrowed("the mean lies too shallow")),
        Side::Deep => (Some(0), Text::Borrowed("the mean lies too deep")),
        Side::Open => open(planter, spread, usual, wanted, grain),
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
    spread: &DepthSpread,
    usual: &[&RowDepths],
    wanted: &Wanted,
    grain: f64,
) -> (Option<u16>, Text) {
    let dug = u16::try_from(usual.len()).unwrap_or(u16::MAX);
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
    let one_row = sd_of_a_row_mean(spread, usual, grain);
    match units_needed(one_row, margin, u32::from(wanted.rows)) {
        Some(rows) => {
            let needed = u16::try_from(rows).unwrap_or(u16::MAX);
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

/// sqrt(`s_b`² + `s_w`² / n), with the seeds per row of this dig.
fn sd_of_a_row_mean(spread: &DepthSpread, usual: &[&RowDepths], grain: f64) -> f64 {
    let seeds: f64 = usual.iter().map(|r| count(r.depths.len())).sum();
    let per_row = seeds / count(usual.len()).max(1.0);
    let rounding = grain * grain / 12.0;
    let (Some(between), Some(within)) = (spread.between, spread.within) else {
        // One seed a row: the spread of the rows holds both parts.
        let means: Vec<f64> = usual.iter().filter_map(|r| mean(&r.depths)).collect();
        return sd(&means).unwrap_or(0.0).max(rounding.sqrt());
    };
    let within = within.si().powi(2).max(rounding);
    (between.si().powi(2) + within / per_row.max(1.0)).sqrt()
}
