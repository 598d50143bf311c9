//! What a planter is made of. What nobody told is `None`; the engine then says what it assumed.

use serde::{Deserialize, Serialize};

use super::{Cleaner, ClosingPair, Coulter, DepthLever, DownForce, FrameSection, GroundDrive};
use crate::quantity::{Angle, Force, Length, Volume};

/// A planter with all its rows alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Planter {
    /// Number of rows, 1 to 64.
    pub rows: u16,
    /// Distance between rows.
    pub row_width: Length,
    /// Rows that run behind a tractor or planter tyre, counted from 1 at the left end, rising.
    #[serde(default)]
    pub tyre_rows: Vec<u16>,
    /// The row unit.
    pub unit: RowUnit,
    /// What adds force to the units.
    pub down_force: DownForce,
    /// The sections of the frame, empty where nobody weighed them.
    pub frame: Vec<FrameSection>,
    /// The wheels of the frame that drive the seed meters, where they do.
    #[serde(default)]
    pub ground_drive: Option<GroundDrive>,
    /// The depth lever, where its steps are known.
    pub depth_lever: Option<DepthLever>,
    /// Closing wheels that hang in the shed and could be fitted.
    pub closing_owned: Vec<ClosingPair>,
}

/// One row unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RowUnit {
    /// Weight of the bare unit, as a force.
    pub weight: Option<Force>,
    /// Weight of coulter, cleaner, brackets and in-furrow kit on the unit.
    pub attachments: Option<Force>,
    /// Where the seed is carried.
    pub hopper: Hopper,
    /// The opener discs.
    pub opener: OpenerDisc,
    /// The coulter ahead of the opener, if there is one.
    pub coulter: Option<Coulter>,
    /// The row cleaner.
    pub cleaner: Cleaner,
    /// The closing wheels that are fitted.
    pub closing: ClosingPair,
    /// Upward force of the closing wheels, measured by lifting them.
    pub closing_lift: Option<Force>,
    /// The parallel arms.
    pub arms: Arms,
}

/// Where the seed is carried.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Hopper {
    /// On the frame; the units carry next to nothing.
    Central,
    /// On each unit.
    PerRow {
        /// Content of one full hopper.
        volume: Option<Volume>,
    },
}

/// A pair of opener discs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OpenerDisc {
    /// Diameter when new.
    pub new_diameter: Length,
    /// Diameter as measured, where somebody measured it.
    pub measured: Option<Length>,
    /// Diameter at which the machine's manual says to replace.
    pub manual_limit: Option<Length>,
}

/// The parallel arms. A measured angle wins over a measured bar height.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Arms {
    /// Angle below the horizontal, toolbar to unit; positive hangs lower.
    pub angle: Option<Angle>,
    /// How much too high the bar runs while planting.
    pub bar_too_high: Option<Length>,
    /// Length of an arm.
    pub length: Option<Length>,
}
