//! Over weeks, depths and speeds: what charts are drawn from.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::shares::CountedShare;
use crate::quantity::{Force, Length, Speed};

/// A week, from Monday.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Week {
    /// The Monday.
    pub starts: NaiveDate,
    /// Revisions that were issued.
    pub issued: u32,
    /// Revisions that were seen.
    pub seen: u32,
    /// Digs.
    pub digs: u32,
    /// Adjustments that were proposed.
    pub proposed: u32,
    /// Adjustments that were accepted.
    pub accepted: u32,
    /// Fields whose last dig so far has load and depth in the window, of those whose last dig so far
    /// tells, at the end of the week.
    pub in_window: Option<CountedShare>,
}

/// Where seed lay against where it was wanted, in bins of [`DEPTH_BIN`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DepthDistribution {
    /// Width of a bin.
    pub bin: Length,
    /// The bins with seed, the shallowest first.
    pub bins: Vec<DepthBin>,
    /// The narrowest tolerance of the digs.
    pub least_tolerance: Option<Length>,
    /// The widest.
    pub most_tolerance: Option<Length>,
    /// Seeds within the tolerance of their dig at the first dig of a field, and of how many.
    pub first_within: SeedCount,
    /// The same at the last dig of a field.
    pub last_within: SeedCount,
}

/// Seeds that were counted. They are no units of a share with an interval: seeds of a row resemble
/// each other.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SeedCount {
    /// How many.
    pub count: u64,
    /// Of how many.
    pub of: u64,
}

/// Width of a bin of depth: an eighth of an inch, m.
pub const DEPTH_BIN: f64 = 0.003_175;

/// A bin of depth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DepthBin {
    /// Its middle, less the depth that was wanted: negative is too shallow.
    pub off: Length,
    /// Seeds at the first dig of each field.
    pub first: u64,
    /// Seeds at the last dig of each field.
    pub last: u64,
}

/// Digs of one load at one speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LoadAtSpeed {
    /// The speed, to a quarter mile per hour.
    pub speed: Speed,
    /// The load on the gauge wheels, to 50 N.
    pub load: Force,
    /// Digs.
    pub digs: u32,
    /// Those of them with the load in the window.
    pub inside: u32,
}
