//! Whether the wheels that drive the seed meters keep their grip.
//!
//! Down force takes weight off the wheels of the frame. A ground drive slips when weight times
//! grip is less than the pull it needs; the rows then get too little seed, long before the section
//! lifts.

use serde::{Deserialize, Serialize};

use super::frame::{FrameSection, RowOnFrame};
use crate::quantity::{Force, Measured, Ratio};
use crate::stats::Range;

/// Wheels of a section that drive the seed meters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GroundDrive {
    /// The name of the section whose wheels drive.
    pub section: String,
    /// Pull that the drive needs at the rim of those wheels together.
    pub pull: Force,
    /// Pull for each unit of weight on the wheels, where somebody measured it.
    pub friction: Option<Ratio>,
}

/// Whether a ground drive keeps its grip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DriveVerdict {
    /// Even at the poorest grip.
    Grips,
    /// Only at a good grip.
    MaySlip,
    /// Not even at the best grip.
    Slips,
}

impl DriveVerdict {
    /// What it means.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Grips => "the drive wheels keep enough weight to turn the meters",
            Self::MaySlip => {
                "the drive wheels may slip where the ground is slick: count seed behind them, and add weight on that section"
            }
            Self::Slips => {
                "the drive wheels slip and the meters drop too little seed: use less down force or add weight on that section"
            }
        }
    }
}

/// A ground drive at a down force.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DriveCheck {
    /// The section whose wheels drive.
    pub section: String,
    /// Whether they keep their grip.
    pub verdict: DriveVerdict,
    /// Weight that must stay on the wheels at the likely grip: pull / grip.
    pub needs: Force,
    /// Weight that is left on them.
    pub left_on_wheels: Force,
    /// Down force on each row at which they slip at the poorest grip.
    pub slips_from: Force,
    /// The same at the likely grip.
    pub slips_at: Force,
    /// The same at the best grip.
    pub slips_at_latest: Force,
}

/// Checks a ground drive: it slips when `N mu` is below the pull. `None` when the frame has no
/// section of that name, or the section carries no rows.
///
/// `usual` is the grip to take when nobody measured it, above 0.
pub fn drive_check(
    drive: &GroundDrive,
    sections: &[FrameSection],
    row: RowOnFrame,
    usual: Range,
) -> Option<DriveCheck> {
    let section = sections.iter().find(|s| s.name == drive.section && s.rows > 0)?;
    let grip = drive.friction.map_or(usual, |f| Range::exact(f.si()));
    let needs = |grip: f64| drive.pull.si() / grip;
    let left = section.left_on_wheels(row).si();
    let verdict = if left >= needs(grip.low) {
        DriveVerdict::Grips
    } else if left >= needs(grip.high) {
        DriveVerdict::MaySlip
    } else {
        DriveVerdict::Slips
    };
    let force_at = |grip: f64| section.force_leaving(Force::from_si(needs(grip)), row);
    Some(DriveCheck {
        section: section.name.clone(),
        verdict,
        needs: Force::from_si(needs(grip.likely)),
        left_on_wheels: Force::from_si(left),
        slips_from: force_at(grip.low),
        slips_at: force_at(grip.likely),
        slips_at_latest: force_at(grip.high),
    })
}
