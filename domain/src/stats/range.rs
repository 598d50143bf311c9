//! A low, a likely and a high figure.

use serde::{Deserialize, Serialize};

use super::spread::Spread;
use crate::provenance::Coefficient;

/// Three figures of one quantity: read as a triangular distribution, or by ratios.
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

    /// By ratios: half of the cases below `likely`, half above; see [`Spread::by_ratio`].
    pub fn spread_by_ratio(self) -> Spread {
        Spread::by_ratio(self.low, self.likely, self.high)
    }

    /// The value of the triangular distribution below which a share `p` lies.
    pub fn quantile(self, p: f64) -> f64 {
        let (a, c, b) = (self.low, self.likely, self.high);
        if b - a < 1e-12 {
            return c;
        }
        let at_peak = (c - a) / (b - a);
        if p < at_peak {
            a + (p * (b - a) * (c - a)).sqrt()
        } else {
            b - ((1.0 - p) * (b - a) * (b - c)).sqrt()
        }
    }

    /// Share of the triangular distribution that lies at `x` or below.
    pub fn below(self, x: f64) -> f64 {
        let (a, c, b) = (self.low, self.likely, self.high);
        if x >= b {
            1.0
        } else if x < a {
            0.0
        } else if x < c {
            (x - a).powi(2) / ((b - a) * (c - a))
        } else {
            1.0 - (b - x).powi(2) / ((b - a) * (b - c))
        }
    }
}

impl From<(f64, f64, f64)> for Range {
    fn from((low, likely, high): (f64, f64, f64)) -> Self {
        Self { low, likely, high }
    }
}
