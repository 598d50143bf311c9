//! One number of the model with everything that must be said about it.

use serde::Serialize;

use super::mark::Mark;

/// A coefficient: the figure to start with, the range it may lie in, and how it is known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
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
    pub source: &'static str,
    /// Whether digs can correct it.
    pub corrected_by_digs: bool,
}
