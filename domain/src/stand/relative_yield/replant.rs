//! To keep a thin stand or to plant again, by the Iowa table.

use chrono::NaiveDate;

use super::{OutsideTable, RelativeYield, YieldTable};
use crate::quantity::ArealNumberDensity;

/// What the table says to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReplantDecision {
    /// Keep what stands.
    Keep,
    /// Planting again yields more, before what it costs.
    Replant,
}

/// Both figures and the decision.
#[derive(Debug, Clone, PartialEq)]
pub struct Replant {
    /// Relative yield of what stands.
    pub keep: RelativeYield,
    /// Relative yield of a new stand, before replant problems.
    pub replant: RelativeYield,
    /// The decision by these two figures alone.
    pub decision: ReplantDecision,
}

/// Compares a stand that is there, planted on a day, with one planted again on another day.
///
/// Ties keep. Cost of seed, fuel and time, and the tenth that a replanted field commonly loses, are
/// not in it: they only speak for keeping.
///
/// # Errors
/// When either lies outside the table.
pub fn keep_or_replant(
    present: (NaiveDate, ArealNumberDensity),
    again: (NaiveDate, ArealNumberDensity),
) -> Result<Replant, OutsideTable> {
    let keep = YieldTable::IowaReplant.at(present.0, present.1)?;
    let replant = YieldTable::IowaReplant.at(again.0, again.1)?;
    let decision = if replant.percent > keep.percent {
        ReplantDecision::Replant
    } else {
        ReplantDecision::Keep
    };
    Ok(Replant { keep, replant, decision })
}
