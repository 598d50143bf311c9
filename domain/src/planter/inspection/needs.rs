//! What a planter must have for an item to be looked at.

use crate::planter::{Cleaner, ClosingPair, DownForce, Planter};

/// What a planter must have for an item to be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// Nothing: every planter has it.
    Nothing,
    /// Coulters.
    Coulter,
    /// Row cleaners.
    RowCleaner,
    /// Springs that add down force.
    Springs,
    /// Air bags.
    AirBags,
    /// Hydraulic cylinders on the units.
    Cylinders,
    /// Two smooth closing wheels, which stand a gap apart.
    SmoothClosing,
    /// Closing wheels with spikes or fingers.
    SpikedClosing,
    /// Wheels of the frame that drive the meters.
    GroundDrive,
}

impl Needs {
    /// Whether the planter has it.
    pub fn has(self, planter: &Planter) -> bool {
        let smooth = matches!(planter.unit.closing, ClosingPair::Rubber | ClosingPair::CastIron);
        match self {
            Self::Nothing => true,
            Self::Coulter => planter.unit.coulter.is_some(),
            Self::RowCleaner => planter.unit.cleaner != Cleaner::None,
            Self::Springs => matches!(planter.down_force, DownForce::Spring { .. }),
            Self::AirBags => matches!(planter.down_force, DownForce::AirBag { .. }),
            Self::Cylinders => matches!(planter.down_force, DownForce::Hydraulic { .. }),
            Self::SmoothClosing => smooth,
            Self::SpikedClosing => !smooth,
            Self::GroundDrive => planter.ground_drive.is_some(),
        }
    }

    /// What the planter lacks, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Coulter => "coulters",
            Self::RowCleaner => "row cleaners",
            Self::Springs => "down-force springs",
            Self::AirBags => "air bags",
            Self::Cylinders => "hydraulic cylinders",
            Self::SmoothClosing => "two smooth closing wheels",
            Self::SpikedClosing => "spiked or finger closing wheels",
            Self::GroundDrive => "wheels that drive the meters",
        }
    }
}
