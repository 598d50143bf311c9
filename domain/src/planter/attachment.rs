//! What hangs on a row unit.

use serde::{Deserialize, Serialize};

use crate::quantity::Length;

/// A coulter ahead of the opener.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Coulter {
    /// What carries it.
    pub mount: CoulterMount,
    /// How much higher its edge runs than the opener's.
    pub above_opener: Option<Length>,
}

/// What carries the coulter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CoulterMount {
    /// The row unit: its reaction lifts the unit.
    Unit,
    /// The frame: its reaction lifts the frame.
    Frame,
}

/// The row cleaner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cleaner {
    /// No row cleaner.
    None,
    /// Floats on its own arm.
    Floating,
    /// Fixed to the unit; it carries part of the unit when it runs deep.
    Fixed,
}

/// A pair of closing wheels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClosingPair {
    /// Two smooth rubber wheels.
    Rubber,
    /// Two smooth cast-iron wheels.
    CastIron,
    /// One spiked wheel, one rubber wheel.
    SpikedAndRubber,
    /// Two spiked wheels, commonly with a drag chain.
    TwoSpiked,
    /// Finger or spader wheels.
    Finger,
}
