//! Parts that wear, and what is to be mended.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::Named;
use crate::quantity::{Area, Length};

/// A part that wears, as last measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WornPart {
    /// The planter.
    pub planter: Named,
    /// Code of the part.
    pub part: String,
    /// The part in words.
    pub words: String,
    /// The rows; empty means all.
    pub rows: Vec<u16>,
    /// When it was last measured.
    pub measured_on: NaiveDate,
    /// What was measured.
    pub measured: Length,
    /// Its limit.
    pub limit: Option<Length>,
    /// Wear by area, m per m².
    pub wear_per_area: Option<f64>,
    /// Land that it still plants before it is at its limit.
    pub area_left: Option<Area>,
    /// When it will be at its limit, as the season goes.
    pub at_limit_on: Option<NaiveDate>,
    /// Whether it is at its limit, or its replacement is open.
    pub replace: bool,
}

/// Where an entry of the list for the shed comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ShedReason {
    /// An inspection said `replace`, and nobody did.
    OpenReplacement,
    /// A part is at its limit, or will be before the next season ends.
    Wear,
    /// Digs pointed to it.
    Digs,
}

/// Something to be mended, or looked at, in the shed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShedItem {
    /// The planter.
    pub planter: Named,
    /// Where the entry comes from.
    pub reason: ShedReason,
    /// What, in words.
    pub words: String,
    /// The rows; empty means all, or not known.
    pub rows: Vec<u16>,
    /// Digs that pointed to it.
    pub digs: u32,
    /// Since when, or when it was last seen.
    pub day: Option<NaiveDate>,
}
