//! One number of the model with everything that must be said about it.

use serde::Serialize;

use super::mark::Mark;
use super::trace::Text;

/// A coefficient: the figure to start with, the range it may lie in, and how it is known.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Coefficient {
    /// The name in the API.
    pub name: &'static str,
    /// The symbol in formulas.
    pub symbol: &'static str,
    /// What it is, in one sentence.
    pub what: &'static str,
    /// The figure to start with, in `unit`.
    pub value: f64,
    /// Low end of the range, in `unit`.
    pub low: f64,
    /// High end of the range, in `unit`.
    pub high: f64,
    /// UCUM code, `1` for a plain number.
    pub unit: &'static str,
    /// How the figure is known.
    pub mark: Mark,
    /// The source, or the words "assumption" or "common practice, no source".
    pub source: Text,
    /// Whether digs can correct it.
    pub corrected_by_digs: bool,
    /// What a practice's own figure may be, in `unit`.
    pub within: Within,
}

/// The hard bounds of a practice's own figure and of its range. Both ends belong to it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Within {
    /// The least that is taken.
    pub least: f64,
    /// The most that is taken.
    pub most: f64,
}

/// How far beyond the range that ships an own figure may lie: pounds-force taken for newtons are
/// off by 4.4, inches for millimetres by 25, so such a slip at the ends of the range is refused.
const BEYOND: f64 = 3.0;

impl Within {
    /// From a third of the low end to three times the high end. A row names others where that would
    /// be wrong: shares end at 1, temperatures have no zero to multiply.
    pub(super) const fn of(low: f64, high: f64) -> Self {
        Self {
            least: if low < 0.0 { low * BEYOND } else { low / BEYOND },
            most: if high < 0.0 { high / BEYOND } else { high * BEYOND },
        }
    }

    /// Whether a figure may be taken. Not a number never may.
    pub fn holds(&self, figure: f64) -> bool {
        (self.least..=self.most).contains(&figure)
    }
}
