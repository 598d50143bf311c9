//! The two ends of an interval.

use serde::{Deserialize, Serialize};

/// Low and high limit of a figure, 95 % unless something else is said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Limits<T> {
    /// Low limit.
    pub low: T,
    /// High limit.
    pub high: T,
}

impl Limits<f64> {
    /// Both ends changed in the same way.
    pub(super) fn map<T>(self, change: impl Fn(f64) -> T) -> Limits<T> {
        Limits { low: change(self.low), high: change(self.high) }
    }
}

impl From<(f64, f64)> for Limits<f64> {
    fn from((low, high): (f64, f64)) -> Self {
        Self { low, high }
    }
}
