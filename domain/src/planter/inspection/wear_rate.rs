//! How fast a part wears: from two readings of the same part and the area planted between them.

use serde::{Deserialize, Serialize};

/// Half the width of the middle 90 % of a normal distribution, in standard deviations.
const NINETY: f64 = 1.644_853_626_951_472_2;

/// A reading of a part, in SI base units.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Area that the planter had planted until then, counted from any beginning, m².
    pub area: f64,
    /// What was read, turned so that wear makes it larger: a diameter counts negative.
    pub worn: f64,
    /// Standard deviation of the reading; 0 for a part that was put in new.
    pub sd: f64,
}

/// Wear for each m², with the 5 % and 95 % ends of what the readings leave open.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rate {
    /// Low end; never negative.
    pub low: f64,
    /// The figure that follows from the readings.
    pub likely: f64,
    /// High end.
    pub high: f64,
}

/// Why there is no rate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum NoRate {
    /// There is one reading only.
    #[error(
        "there is one reading only: a second one after some acres gives the wear for each acre"
    )]
    OneReading,
    /// Nothing was planted between the readings.
    #[error(
        "nothing was planted between the readings, so they say nothing of the wear for each acre"
    )]
    NoArea,
    /// The part has become better than two readings may differ.
    #[error(
        "the part is better than it was, by more than two readings may differ: record that it was replaced, or look again"
    )]
    Grew,
}

/// How far two readings may lie apart by chance: the middle 90 %.
pub fn may_differ(one: f64, other: f64) -> f64 {
    NINETY * one.hypot(other)
}

/// The middle 90 % of one reading, to each side.
pub(super) fn reads_within(sd: f64) -> f64 {
    NINETY * sd
}

/// Wear for each m² between two readings of the same part.
///
/// # Errors
/// Without area between them, or when the part became better by more than readings may differ.
pub fn wear_rate(first: Reading, last: Reading) -> Result<Rate, NoRate> {
    let area = last.area - first.area;
    if area <= 0.0 {
        return Err(NoRate::NoArea);
    }
    let wear = last.worn - first.worn;
    let open = may_differ(first.sd, last.sd);
    if wear < -open {
        return Err(NoRate::Grew);
    }
    Ok(Rate {
        low: (wear - open).max(0.0) / area,
        likely: wear.max(0.0) / area,
        high: (wear + open).max(0.0) / area,
    })
}

impl Rate {
    /// Wears by just so much.
    pub const fn exact(rate: f64) -> Self {
        Self { low: rate, likely: rate, high: rate }
    }

    /// What several rows together say of a row that has no rate of its own: the mean, and everything
    /// from the slowest to the fastest.
    pub fn of_rows(rows: &[Self]) -> Option<Self> {
        let count = rows.iter().fold(0.0, |count, _| count + 1.0);
        let sum: f64 = rows.iter().map(|rate| rate.likely).sum();
        (count > 0.0).then(|| Self {
            low: rows.iter().map(|rate| rate.low).fold(f64::INFINITY, f64::min),
            likely: sum / count,
            high: rows.iter().map(|rate| rate.high).fold(0.0, f64::max),
        })
    }
}
