//! A share of the seeds, with its limits.

use serde::{Deserialize, Serialize};

use crate::stats::wilson;

/// A counted share from 0 to 1 with its 95 % limits (Wilson).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// The share that was seen.
    pub share: f64,
    /// Low limit.
    pub low: f64,
    /// High limit.
    pub high: f64,
    /// How many were counted.
    pub of: u32,
    /// How many independent seeds they are worth: seeds of one row resemble each other.
    pub worth: f64,
}

impl Share {
    /// A share of `of` readings that are worth `worth` independent ones; `None` without readings.
    pub(super) fn of(count: u32, of: u32, worth: f64) -> Option<Self> {
        let share = f64::from(count) / f64::from(of.max(1));
        let worth = worth.clamp(1.0, f64::from(of.max(1)));
        let (low, high) = wilson(share * worth, worth, 0.95)?;
        (of > 0).then_some(Self { share, low, high, of, worth })
    }
}
