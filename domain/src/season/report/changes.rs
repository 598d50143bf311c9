//! What digs proposed to change, and what they taught.

use serde::{Deserialize, Serialize};

use super::Named;
use crate::dig::Cause;
use crate::learning::SoilClass;
use crate::stats::Range;

/// What digs proposed to change, and why.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Adjustments {
    /// Proposed.
    pub proposed: u32,
    /// Accepted.
    pub accepted: u32,
    /// Declined.
    pub declined: u32,
    /// Not decided yet.
    pub open: u32,
    /// By cause, the most frequent first.
    pub causes: Vec<CauseCount>,
}

/// How often a cause was proposed to be dealt with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct CauseCount {
    /// The cause; none where no sign asked for the change, but all digs together.
    pub cause: Option<Cause>,
    /// Proposed.
    pub proposed: u32,
    /// Accepted.
    pub accepted: u32,
    /// Declined.
    pub declined: u32,
}

/// What digs taught about a soil under a cover.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LearnedClass {
    /// The planter, in the report of a planter or a grower; else the whole practice.
    pub planter: Option<Named>,
    /// Soil and cover.
    pub class: SoilClass,
    /// Digs behind it, of all seasons.
    pub digs: u32,
    /// The factor on the resistance that the conditions let expect, before any dig.
    pub before: Range,
    /// The factor with all digs that are known now, asked about this season.
    pub after: Range,
}
