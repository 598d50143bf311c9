//! Whether the frame has the weight to push against, and what happens before it lifts.

use domain::planter::{DriveCheck, SectionLoad};
use domain::settings::{DownForceAdvice, FrameStage};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::Show;
use crate::v1::recommendations::words::{DriveVerdict, FrameStageKind, FrameVerdict};

/// Whether the frame has the weight to push against, with empty tanks.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "verdict": "holds",
    "meaning": "every section keeps its reserve of weight on its wheels, with empty tanks",
    "sections": [{
        "name": "left wing",
        "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
        "left_low": {"value": 400, "unit": "[lbf_av]"},
        "left_high": {"value": 400, "unit": "[lbf_av]"},
        "most_per_row": {"value": 400, "unit": "[lbf_av]"},
        "lifts_at": {"value": 450, "unit": "[lbf_av]"}
    }],
    "stages": [{
        "section": "left wing", "what": "reserve_used_up",
        "at": {"value": 400, "unit": "[lbf_av]"}, "reached": false
    }]
})))]
pub struct FrameOut {
    /// The verdict for the section that is worst off.
    pub verdict: FrameVerdict,
    /// What it means.
    #[schema(example = "every section keeps its reserve of weight on its wheels")]
    pub meaning: &'static str,
    /// Each section that was weighed.
    #[schema(max_items = 100)]
    pub sections: Vec<SectionOut>,
    /// What happens as the down force rises, the first first.
    #[schema(max_items = 100)]
    pub stages: Vec<FrameStageOut>,
    /// Whether the wheels that drive the seed meters keep their grip, where there are some.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ground_drive: Option<DriveOut>,
}

impl FrameOut {
    pub(super) fn of(advice: &DownForceAdvice, show: Show) -> Self {
        Self {
            verdict: advice.frame.into(),
            meaning: advice.frame.words(),
            sections: advice.sections.iter().map(|it| SectionOut::of(it, show)).collect(),
            stages: advice.frame_stages.iter().map(|it| FrameStageOut::of(it, show)).collect(),
            ground_drive: advice.ground_drive.as_ref().map(|it| DriveOut::of(it, show)),
        }
    }
}

/// What is left on the wheels of one section of the frame.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "left wing",
    "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
    "left_low": {"value": 310, "unit": "[lbf_av]"},
    "left_high": {"value": 450, "unit": "[lbf_av]"},
    "most_per_row": {"value": 400, "unit": "[lbf_av]"},
    "lifts_at": {"value": 450, "unit": "[lbf_av]"}
})))]
pub struct SectionOut {
    /// What people call it.
    #[schema(example = "left wing")]
    pub name: String,
    /// Weight left on its wheels together; negative means that it lifts.
    pub left_on_wheels: Quantity,
    /// 5 % of what may be left there: coulters on the frame and the arms are uncertain.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub left_low: Option<Quantity>,
    /// 95 % of what may be left there.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub left_high: Option<Quantity>,
    /// The most down force per row at which the reserve stays on the wheels.
    pub most_per_row: Quantity,
    /// Down force per row at which the section lifts.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lifts_at: Option<Quantity>,
}

impl SectionOut {
    fn of(section: &SectionLoad, show: Show) -> Self {
        Self {
            name: section.name.clone(),
            left_on_wheels: show.frame(section.left_on_wheels),
            left_low: section.left_low.map(|force| show.frame(force)),
            left_high: section.left_high.map(|force| show.frame(force)),
            most_per_row: show.down_force(section.most_per_row),
            lifts_at: section.lifts_at.map(|force| show.down_force(force)),
        }
    }
}

/// Something that happens to the frame as the down force rises.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "section": "left wing", "what": "lifts",
    "at": {"value": 450, "unit": "[lbf_av]"}, "reached": false
})))]
pub struct FrameStageOut {
    /// The section.
    #[schema(example = "left wing")]
    pub section: String,
    /// What happens.
    pub what: FrameStageKind,
    /// Down force on each row from which it happens.
    pub at: Quantity,
    /// Whether it happens at the force that is advised.
    #[schema(example = false)]
    pub reached: bool,
}

impl FrameStageOut {
    /// In these units.
    pub fn of(stage: &FrameStage, show: Show) -> Self {
        Self {
            section: stage.section.clone(),
            what: stage.what.into(),
            at: show.down_force(stage.at),
            reached: stage.reached,
        }
    }
}

/// Whether the wheels that drive the seed meters keep their grip.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "section": "left wing", "verdict": "may_slip",
    "meaning": "the drive wheels may slip where the ground is slick: count seed behind them, and add weight on that section",
    "needs": {"value": 300, "unit": "[lbf_av]"},
    "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
    "slips_from": {"value": 225, "unit": "[lbf_av]"},
    "slips_at": {"value": 300, "unit": "[lbf_av]"},
    "slips_at_latest": {"value": 338, "unit": "[lbf_av]"}
})))]
pub struct DriveOut {
    /// The section whose wheels drive.
    #[schema(example = "left wing")]
    pub section: String,
    /// Whether they keep their grip.
    pub verdict: DriveVerdict,
    /// What it means.
    #[schema(example = "the drive wheels keep enough weight to turn the meters")]
    pub meaning: &'static str,
    /// Weight that must stay on the wheels at the likely grip.
    pub needs: Quantity,
    /// Weight that is left on them.
    pub left_on_wheels: Quantity,
    /// Down force on each row at which they slip at the poorest grip.
    pub slips_from: Quantity,
    /// The same at the likely grip.
    pub slips_at: Quantity,
    /// The same at the best grip.
    pub slips_at_latest: Quantity,
}

impl DriveOut {
    /// In these units.
    pub fn of(check: &DriveCheck, show: Show) -> Self {
        Self {
            section: check.section.clone(),
            verdict: check.verdict.into(),
            meaning: check.verdict.words(),
            needs: show.frame(check.needs),
            left_on_wheels: show.frame(check.left_on_wheels),
            slips_from: show.down_force(check.slips_from),
            slips_at: show.down_force(check.slips_at),
            slips_at_latest: show.down_force(check.slips_at_latest),
        }
    }
}
