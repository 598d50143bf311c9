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
    /// Down force per row at which the section lifts; absent in results of engine 2026.1.
    #[serde(default)]
    pub lifts_at: Option<Force>,
    /// 5 % of what may be left on its wheels; absent where it was not worked out.
    #[serde(default)]
    pub left_low: Option<Force>,
    /// 95 % of what may be left on its wheels.
    #[serde(default)]
    pub left_high: Option<Force>,
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

impl FrameVerdict {
    /// What it means.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Holds => {
                "every section keeps its reserve of weight on its wheels, with empty tanks"
            }
            Self::Marginal => {
                "a section stays down but has used up its reserve: bumps and soft spots will lift it; add weight there before adding force"
            }
            Self::Lifts => {
                "a section lifts: more pressure only raises the bar, and its rows plant shallow; use less force or add weight there"
            }
            Self::NotChecked => {
                "nobody gave the weights: look whether the bar rises as down force is raised"
            }
        }
    }
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

impl FrameSection {
    /// Weight left on the wheels of the section; negative means that it lifts.
    pub fn left_on_wheels(&self, row: RowOnFrame) -> Force {
        Force::from_si(self.without_down_force(row) - self.row_count() * row.down_force.si())
    }

    /// The down force per row that leaves a weight on the wheels; the down force of `row` is not
    /// used. Nothing for a section without rows.
    pub fn force_leaving(&self, weight: Force, row: RowOnFrame) -> Force {
        if self.rows == 0 {
            return Force::from_si(0.0);
        }
        Force::from_si((self.without_down_force(row) - weight.si()) / self.row_count())
    }

    fn row_count(&self) -> f64 {
        f64::from(self.rows)
    }

    fn without_down_force(&self, row: RowOnFrame) -> f64 {
        let carried = self.empty_weight.si() - self.on_hitch.si();
        carried - self.row_count() * (row.coulter.si() - row.arm_pull.si())
    }
}

fn section_load(section: &FrameSection, row: RowOnFrame, reserve: Force) -> SectionLoad {
    SectionLoad {
        name: section.name.clone(),
        left_on_wheels: section.left_on_wheels(row),
        most_per_row: section.force_leaving(reserve, row),
        lifts_at: Some(section.force_leaving(Force::from_si(0.0), row)),
        left_low: None,
        left_high: None,
    }
}
