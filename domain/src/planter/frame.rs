//! Whether the frame has the weight to hold the units down (B7).
//!
//! Springs, bags and cylinders push against the frame. When a section has no weight left on its
//! wheels it lifts, and more pressure only lifts it further. Do the sum for each section, with
//! empty tanks.

use serde::{Deserialize, Serialize};

use crate::quantity::{Force, Measured};

/// A part of the frame that can lift by itself: a wing, the centre, or the whole bar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrameSection {
    /// What people call it.
    pub name: String,
    /// Rows it carries.
    pub rows: u16,
    /// Weight it carries with empty tanks, without the row units.
    pub empty_weight: Force,
    /// The part of that weight that the tractor carries.
    pub on_hitch: Force,
    /// Wheels that carry it.
    pub wheels: u16,
}

/// What is left on the wheels of one section.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SectionLoad {
    /// The name of the section.
    pub name: String,
    /// Weight left on its wheels together; negative means that it lifts.
    pub left_on_wheels: Force,
    /// The most down force per row at which the reserve stays on the wheels.
    pub most_per_row: Force,
}

/// Whether the frame holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FrameVerdict {
    /// Every section keeps its reserve.
    Holds,
    /// Some section is left with less than the reserve.
    Marginal,
    /// Some section lifts.
    Lifts,
    /// Nobody gave the weights.
    NotChecked,
}

/// What acts on the frame for each row it carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowOnFrame {
    /// Down force of the row.
    pub down_force: Force,
    /// Upward reaction of a coulter mounted on the frame.
    pub coulter: Force,
    /// Downward pull of the arms on the frame, H tan(theta).
    pub arm_pull: Force,
}

/// N = `W_frame` - `T_hitch` - rows x (`F_dp` + `R_coulter` - H tan theta), for each section.
pub fn frame_check(
    sections: &[FrameSection],
    row: RowOnFrame,
    reserve: Force,
) -> (FrameVerdict, Vec<SectionLoad>) {
    let loads: Vec<SectionLoad> = sections.iter().map(|s| section_load(s, row, reserve)).collect();
    let lightest = loads.iter().map(|l| l.left_on_wheels.si()).fold(f64::INFINITY, f64::min);
    let verdict = if loads.is_empty() {
        FrameVerdict::NotChecked
    } else if lightest <= 0.0 {
        FrameVerdict::Lifts
    } else if lightest < reserve.si() {
        FrameVerdict::Marginal
    } else {
        FrameVerdict::Holds
    };
    (verdict, loads)
}

fn section_load(section: &FrameSection, row: RowOnFrame, reserve: Force) -> SectionLoad {
    let rows = f64::from(section.rows);
    let carried = section.empty_weight.si() - section.on_hitch.si();
    let fixed = rows * (row.coulter.si() - row.arm_pull.si());
    let left = carried - fixed - rows * row.down_force.si();
    let most = if section.rows == 0 { 0.0 } else { (carried - fixed - reserve.si()) / rows };
    SectionLoad {
        name: section.name.clone(),
        left_on_wheels: Force::from_si(left),
        most_per_row: Force::from_si(most),
    }
}
