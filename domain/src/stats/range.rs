//! A low, a likely and a high figure.

use serde::{Deserialize, Serialize};

use super::spread::Spread;
use crate::provenance::Coefficient;

/// Three figures of one quantity, read as a triangular distribution.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Range {
    /// Low end.
    pub low: f64,
    /// The figure to start with.
    pub likely: f64,
    /// High end.
    pub high: f64,
}

impl Range {
    /// A figure that was measured.
    pub const fn exact(value: f64) -> Self {
        Self { low: value, likely: value, high: value }
    }

    /// Three figures, in the unit of the caller's choice.
    pub const fn new(low: f64, likely: f64, high: f64) -> Self {
        Self { low, likely, high }
    }

    /// The figures of a coefficient, in its own unit.
    pub const fn of(k: &Coefficient) -> Self {
        Self { low: k.low, likely: k.value, high: k.high }
    }

    /// Multiplied by a known factor, which must not be negative.
    #[must_use]
    pub fn scaled(self, k: f64) -> Self {
        Self { low: self.low * k, likely: self.likely * k, high: self.high * k }
    }

    /// The same change to all three figures; it must not turn their order round.
    #[must_use]
    pub fn map(self, change: impl Fn(f64) -> f64) -> Self {
        Self { low: change(self.low), likely: change(self.likely), high: change(self.high) }
    }

    /// The triangular distribution.
    pub fn spread(self) -> Spread {
        Spread::triangular(self.low, self.likely, self.high)
    }
}

impl From<(f64, f64, f64)> for Range {
    fn from((low, likely, high): (f64, f64, f64)) -> Self {
        Self { low, likely, high }
    }
}
