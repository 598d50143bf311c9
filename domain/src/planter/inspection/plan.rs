//! What a planter is still to plant this season, and on which days.

use chrono::{NaiveDate, TimeDelta};
use serde::{Deserialize, Serialize};

/// What a planter is to plant, from an inspection on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SeasonPlan {
    /// Area, m².
    pub area: f64,
    /// First day, where it is known.
    pub from: Option<NaiveDate>,
    /// Last day, where it is known.
    pub until: Option<NaiveDate>,
}

impl SeasonPlan {
    /// What is left of it when `done` m² are planted; never negative.
    pub fn left(&self, done: f64) -> f64 {
        (self.area - done).max(0.0)
    }

    /// The day on which so much area from now is planted, at an even pace over the days that are
    /// left. `None` beyond the plan, or where its days are not known.
    pub fn day_of(&self, area: f64, done: f64, today: NaiveDate) -> Option<NaiveDate> {
        if area <= 0.0 {
            return Some(today);
        }
        let left = self.left(done);
        let (from, until) = self.from.zip(self.until)?;
        let start = from.max(today);
        let days = until.signed_duration_since(start).num_days();
        if area > left || days < 0 {
            return None;
        }
        // Days of a season are few, so the conversions are exact.
        let days = i32::try_from(days).ok().map(f64::from)?;
        let into = (area / left * days).floor();
        start.checked_add_signed(TimeDelta::try_seconds(seconds(into)?)?)
    }
}

/// Whole days in seconds.
fn seconds(days: f64) -> Option<i64> {
    format!("{days:.0}").parse::<i64>().ok()?.checked_mul(86_400)
}
