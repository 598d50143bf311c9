//! A part against its limit, and a person's word against the measurement: the worse counts, and
//! both are shown.

use serde::{Deserialize, Serialize};

use super::limit::{Direction, Limit};
use super::status::Status;

/// Lengths that differ by less are the same, m or m².
const SAME: f64 = 1e-9;

/// How a part was found, by eye and by measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Judged {
    /// What the person said.
    pub by_eye: Status,
    /// What the measurement says; `None` without one, or without a limit.
    pub by_measure: Option<Status>,
    /// The worse of the two.
    pub status: Status,
    /// Whether the two say different things.
    pub disagree: bool,
}

/// The word of a person, and a measurement against its limit.
pub fn judge(by_eye: Status, measured: Option<f64>, limit: Option<&Limit>) -> Judged {
    let by_measure = measured.zip(limit).map(|(value, limit)| limit.status_of(value));
    let status = by_measure.map_or(by_eye, |measured| worse(by_eye, measured));
    let looked = by_eye != Status::NotChecked;
    let disagree = looked && by_measure.is_some_and(|measured| measured != by_eye);
    Judged { by_eye, by_measure, status, disagree }
}

/// The worse of two; what nobody checked is not worse than anything.
pub fn worse(one: Status, other: Status) -> Status {
    one.max(other)
}

impl Limit {
    /// What a measurement says, in SI base units.
    pub fn status_of(&self, value: f64) -> Status {
        match self.direction {
            Direction::Falls => self.worn(-value, |limit| -limit),
            Direction::Rises => self.worn(value, |limit| limit),
            Direction::Between => {
                let low = self.watch.is_none_or(|low| value >= low - SAME);
                let high = self.replace.is_none_or(|high| value <= high + SAME);
                if low && high { Status::Pass } else { Status::Watch }
            }
        }
    }

    /// Whether `value` has risen to the limits, each turned the same way by `turned`.
    fn worn(&self, value: f64, turned: impl Fn(f64) -> f64) -> Status {
        let reached = |limit: f64, at_counts: bool| {
            let limit = turned(limit);
            value > limit + SAME || (at_counts && value >= limit - SAME)
        };
        if self.replace.is_some_and(|limit| reached(limit, self.at_counts)) {
            Status::Replace
        } else if self.watch.is_some_and(|limit| reached(limit, self.at_counts)) {
            Status::Watch
        } else {
            Status::Pass
        }
    }
}
