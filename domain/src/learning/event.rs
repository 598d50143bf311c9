//! What a dig hands to the learning: a few numbers, kept so that all can be rebuilt.

use serde::{Deserialize, Serialize};

use super::balance::DugBalance;
use super::place::Place;
use crate::dig::{PrintDepth, WheelFeel};

/// One dig, as the learning sees it. Lengths in m, forces in N.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DigEvent {
    /// The dig. A second event with the same number in the same place replaces the first.
    #[serde(with = "super::id")]
    pub dig: u128,
    /// Where it belongs.
    pub place: Place,
    /// The balance of the rows while they were planted.
    pub balance: DugBalance,
    /// The rows that speak for the planter. Odd rows and rows with a fault of
    /// their own are left out.
    pub rows: Vec<RowSeen>,
}

/// What was seen on one row.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct RowSeen {
    /// Whether the row runs behind a tyre, where soil is harder.
    #[serde(default)]
    pub behind_tyre: bool,
    /// How the gauge wheels turn.
    pub wheels: Option<WheelFeel>,
    /// The print that they leave.
    pub print: Option<PrintDepth>,
    /// Whether the wall of the furrow shines, where that tells of the load: in moist soil that is
    /// not fine.
    #[serde(default)]
    pub shiny: Option<bool>,
    /// Mean logged load, N.
    pub logged: Option<f64>,
    /// Depth of each seed, m; empty where the seed does not lie on the bottom of the furrow.
    pub depths: Vec<f64>,
}
