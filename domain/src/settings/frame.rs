//! What the frame holds (B7): section by section, the ground drive, and the stages on the way to
//! lift-off as the down force rises.

use serde::{Deserialize, Serialize};

use super::need::{Lift, likely_coulter};
use super::row::Row;
use crate::planter::{
    DriveCheck, FrameVerdict, Planter, RowOnFrame, SectionLoad, drive_check, frame_check,
};
use crate::provenance::Coefficients;
use crate::quantity::{Force, Measured};
use crate::stats::{Range, Spread};

/// Something that happens to the frame as the down force rises.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrameStage {
    /// The section.
    pub section: String,
    /// Down force on each row from which it happens.
    pub at: Force,
    /// What happens.
    pub what: StageKind,
    /// Whether it happens at the force that is advised.
    pub reached: bool,
}

/// What happens, in the order in which it usually does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StageKind {
    /// Less than the reserve is left on the wheels.
    ReserveUsedUp,
    /// The wheels that drive the meters slip, at the likely grip.
    GroundDriveSlips,
    /// The section lifts.
    Lifts,
}

/// The frame at the force that is advised.
pub(super) struct FrameAdvice {
    pub verdict: FrameVerdict,
    pub sections: Vec<SectionLoad>,
    pub drive: Option<DriveCheck>,
    pub stages: Vec<FrameStage>,
}

/// The most down force per row at which every section keeps its reserve and the ground drive its
/// grip; `None` where nobody gave the weights.
pub(super) fn frame_limit(planter: &Planter, row: &Row, k: &Coefficients) -> Option<f64> {
    let on_frame = row_on_frame(row, Force::from_si(0.0));
    let (_, sections) = frame_check(&planter.frame, on_frame, reserve(k));
    let drive = drive(planter, on_frame, k).map(|d| d.slips_at);
    let limits = sections.iter().map(|s| s.most_per_row).chain(drive);
    limits.map(|most| most.si().max(0.0)).reduce(f64::min)
}

/// Checks the frame at a down force, and what it would take to get to each stage.
pub(super) fn frame_advice(
    planter: &Planter,
    row: &Row,
    lift: &Lift<'_>,
    force: Force,
    k: &Coefficients,
) -> FrameAdvice {
    let on_frame = row_on_frame(row, force);
    let (verdict, mut sections) = frame_check(&planter.frame, on_frame, reserve(k));
    if !sections.is_empty() {
        let less = unsure(row, lift);
        for (load, section) in sections.iter_mut().zip(&planter.frame) {
            let rows = f64::from(section.rows);
            let with = |less: f64| load.left_on_wheels - Force::from_si(rows * less);
            let (low, high) = (with(less.high), with(less.low));
            (load.left_low, load.left_high) = (Some(low), Some(high));
        }
    }
    let drive = drive(planter, on_frame, k);
    let stages = frame_stages(&sections, drive.as_ref(), force);
    FrameAdvice { verdict, sections, drive, stages }
}

fn reserve(k: &Coefficients) -> Force {
    Force::from_si(k.frame_reserve.value)
}

fn drive(planter: &Planter, on_frame: RowOnFrame, k: &Coefficients) -> Option<DriveCheck> {
    let given = planter.ground_drive.as_ref()?;
    drive_check(given, &planter.frame, on_frame, Range::of(&k.drive_friction))
}

fn row_on_frame(row: &Row, down_force: Force) -> RowOnFrame {
    let coulter = if row.coulter_on_unit { Force::from_si(0.0) } else { likely_coulter(row) };
    let arm_pull = Force::from_si(row.draft.likely * row.arm_slope.likely);
    RowOnFrame { down_force, coulter, arm_pull }
}

/// By how much a row may take more weight off the frame than the likely figures say, 5 to 95 %.
fn unsure(row: &Row, lift: &Lift<'_>) -> Range {
    let none = || Spread::exact(0.0);
    let coulter = if row.coulter_on_unit { none() } else { lift.coulter().unwrap_or_else(none) };
    let taken = coulter.plus(lift.arms_up().scaled(-1.0));
    let on_frame = row_on_frame(row, Force::from_si(0.0));
    let likely = on_frame.coulter.si() - on_frame.arm_pull.si();
    let curve = taken.curve();
    let off = |p: f64| curve.quantile(p) - likely;
    Range::new(off(0.05).min(0.0), 0.0, off(0.95).max(0.0))
}

/// What happens to the sections as the down force rises, the first first, and whether it happens
/// at `force`.
pub fn frame_stages(
    sections: &[SectionLoad],
    drive: Option<&DriveCheck>,
    force: Force,
) -> Vec<FrameStage> {
    let stage = |section: &str, at: Force, what: StageKind| FrameStage {
        section: section.to_owned(),
        at,
        what,
        reached: force >= at,
    };
    let mut all: Vec<FrameStage> = sections
        .iter()
        .flat_map(|s| {
            let lifts = s.lifts_at.map(|at| stage(&s.name, at, StageKind::Lifts));
            let reserve = stage(&s.name, s.most_per_row, StageKind::ReserveUsedUp);
            [Some(reserve), lifts].into_iter().flatten()
        })
        .chain(drive.map(|d| stage(&d.section, d.slips_at, StageKind::GroundDriveSlips)))
        .collect();
    all.sort_by(|a, b| a.at.si().total_cmp(&b.at.si()));
    all
}
