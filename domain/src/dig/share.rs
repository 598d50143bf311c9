//! A share of the seeds, with its limits.

use serde::{Deserialize, Serialize};

use super::statistics::whole;
use crate::stats::{OneWay, phi_inverse, t_critical, wilson};

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
    /// How many independent ones they are worth: readings of one row resemble each other.
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

    /// The share of the readings that hit, in rows; a single row speaks for itself only.
    pub(super) fn by_rows(rows: &[Vec<f64>], hit: impl Fn(f64) -> bool) -> Option<Self> {
        let one_if = |x: &f64| f64::from(u8::from(hit(*x)));
        let marks: Vec<Vec<f64>> = rows.iter().map(|r| r.iter().map(one_if).collect()).collect();
        let hits = marks.iter().flatten().filter(|m| **m > 0.5).count();
        let table = OneWay::of(&marks)?;
        Self::of(whole(hits), whole(marks.iter().flatten().count()), worth_of_marks(&table))
    }
}

/// What marks of yes and no in rows are worth: N / (1 + (`n0` - 1) icc t² / z²) with the intraclass
/// correlation of the marks. Few rows know badly how rows differ, so that part counts by Student's t
/// with rows - 1 degrees of freedom instead of the normal z. Never less than the rows themselves.
fn worth_of_marks(table: &OneWay) -> f64 {
    let alike = table.components().map_or(0.0, |c| c.intraclass());
    let few = t_critical(0.05, table.between_df()).map_or(1.0, |t| t / phi_inverse(0.975));
    let inflated = 1.0 + (table.n0 - 1.0).max(0.0) * alike * few * few;
    (table.readings / inflated).max(table.groups)
}
