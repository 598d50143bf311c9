//! A rule for somebody with a tape and no signal: when the first rows have settled it.
//!
//! The half-width of the interval is t(0.975, k - 1) s / sqrt(k). The sum of squares is convex in
//! each number, so of all sets of k numbers with one range w, s is largest with half of them at
//! either end. The half-width is thus at most a factor times w: what the rule lets pass, the
//! statistics settle.

use serde::{Deserialize, Serialize};

use super::say::list;
use crate::provenance::Text;
use crate::quantity::{Length, Measured};
use crate::settings::say::inches;
use crate::stats::t_critical;

const INCH: f64 = 0.0254;

/// Rows after which it can pay to look: with fewer the factor is too large to be met.
const ROWS: u16 = 4;

/// When to stop before all rows of a plan are dug.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StopEarly {
    /// The rows to start with.
    pub rows: Vec<u16>,
    /// Factor of the distance from the shallowest to the deepest row mean.
    pub factor: f64,
    /// What that distance counts for at least: the ruler knows no better.
    pub range_at_least: Length,
    /// What that distance times the factor, plus how far the mean is off the target, must not
    /// exceed: the tolerance of the depth.
    pub most: Length,
    /// The rule in words.
    pub words: Text,
}

/// What the rule rests on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ruled {
    /// Tolerance of the depth.
    pub tolerance: Length,
    /// How sure the interval is.
    pub confidence: f64,
    /// Seeds on each row.
    pub seeds: u16,
    /// Finest step of the ruler in m.
    pub grain: f64,
}

/// The rule, where more rows are planned than it needs. `rows` come in the order of their worth.
pub(super) fn stop_early(rows: &[u16], ruled: Ruled) -> Option<StopEarly> {
    let first = rows.get(..usize::from(ROWS)).filter(|first| first.len() < rows.len())?;
    let mut first = first.to_vec();
    first.sort_unstable();
    let t = t_critical(1.0 - ruled.confidence, f64::from(ROWS) - 1.0)?;
    let factor = up(t * most_per_range(ROWS));
    let rounding = ruled.grain / (12.0 * f64::from(ruled.seeds.max(1))).sqrt();
    let least = up(t * rounding / f64::from(ROWS).sqrt() / factor / INCH) * INCH;
    let range_at_least = Length::from_si(least);
    let words = format!(
        "Start with {}. Take the mean of each row, and the mean of those means. Add how far that is off the target to {factor:.2} times the distance from the shallowest to the deepest row (never less than {}). If the sum is {} or less, stop: the mean lies within tolerance.",
        list(&first),
        inches(range_at_least),
        inches(ruled.tolerance),
    );
    Some(StopEarly {
        rows: first,
        factor,
        range_at_least,
        most: ruled.tolerance,
        words: Text::Owned(words),
    })
}

/// The most that s / sqrt(k) can be, for each unit of range.
fn most_per_range(rows: u16) -> f64 {
    let k = f64::from(rows);
    let low = f64::from(rows / 2);
    (low * (k - low) / (k * (k - 1.0)) / k).sqrt()
}

/// Up to the next hundredth.
fn up(figure: f64) -> f64 {
    (figure * 100.0 - 1e-9).ceil() / 100.0
}
