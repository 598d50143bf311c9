//! What the engine says, without where it is kept.

use domain::settings::{Inputs, Recommendation as Worked};
use serde::Serialize;
use utoipa::ToSchema;

use super::cover::CoverOut;
use super::more::{CautionOut, NextMeasurementOut, RemedyOut, TodayOut};
use super::power::PowerOut;
use super::settings::SettingsOut;
use super::steps;
use super::work::WorkOut;
use crate::v1::conditions::contradiction::{Contradiction, contradictions};
use crate::v1::conditions::pests::{PestFinding, findings};
use crate::v1::dig_plan::DigPlanOut;
use crate::v1::learned::LearnedOut;
use crate::v1::recommendations::show::Show;
use crate::v1::recommendations::words::DiscVerdict;
use crate::v1::trace::{self, Assumed, Reason, TraceStep};

/// A whole sheet of settings with reasons and ranges: what a recommendation says, with nothing
/// stored. The members are those of a recommendation.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(crate::v1::what_if::worked_sheet())))]
pub struct SheetOfSettings {
    /// Whether to plant today.
    pub today: TodayOut,
    /// The settings.
    pub settings: SettingsOut,
    /// What digs taught about this planter, soil and field, and what that changed; absent where nobody
    /// in the practice dug.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub learned: Option<LearnedOut>,
    /// Acres, days, the price of speed, and seed for the area.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub work: Option<WorkOut>,
    /// Draft and power at the advised speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub power: Option<PowerOut>,
    /// Readings of the report that cannot all be true, and which of them was used.
    #[schema(max_items = 100)]
    pub contradictions: Vec<Contradiction>,
    /// The cover crop: nitrogen, the day of its end, insects. Absent without a cover.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cover: Option<CoverOut>,
    /// Pests that were counted, against published thresholds.
    #[schema(max_items = 100)]
    pub pests: Vec<PestFinding>,
    /// What would help where the planter can't do what the field asks, the gentlest first.
    #[schema(max_items = 100)]
    pub remedies: Vec<RemedyOut>,
    /// What else the grower is to do, in the advisor's words.
    #[schema(max_items = 100, example = json!(["Start on the west side, it dries first."]))]
    pub instructions: Vec<String>,
    /// What to measure next, the most telling first.
    #[schema(max_items = 100)]
    pub measure_next: Vec<NextMeasurementOut>,
    /// What to do with the opener discs.
    pub discs: DiscVerdict,
    /// Everything that nobody measured, and what was used instead.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// What a practitioner keeps in mind beside the settings.
    #[schema(max_items = 100)]
    pub keep_in_mind: Vec<Reason>,
    /// The first dig: which rows, how many seeds on each, where. Absent for recommendations of an older
    /// engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dig_plan: Option<DigPlanOut>,
    /// What can hurt somebody.
    #[schema(max_items = 100)]
    pub cautions: Vec<CautionOut>,
    /// The calculation, step by step. Each step stays in the units of its formula, whatever the
    /// units of the answer, so that it can be followed by hand.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
    /// Version of the engine that worked it out.
    #[schema(example = "2026.4")]
    pub engine: String,
}

impl SheetOfSettings {
    /// What the engine worked out, in these units.
    pub fn of(worked: Worked, inputs: &Inputs, show: Show) -> Self {
        let settings = SettingsOut::of(&worked, inputs, show);
        let trace = trace::steps(steps(&worked));
        Self {
            today: TodayOut::of(worked.today),
            settings,
            learned: worked.learned.map(|it| LearnedOut::of(it, show)),
            work: worked.work.as_ref().map(|advice| WorkOut::of(advice, show.0)),
            power: worked.power.as_ref().map(|advice| PowerOut::of(advice, show.0)),
            contradictions: contradictions(worked.contradictions),
            cover: worked.cover.map(|advice| CoverOut::of(advice, show)),
            pests: findings(worked.pests),
            remedies: worked.remedies.into_iter().map(|it| RemedyOut::of(it, show)).collect(),
            instructions: worked.instructions,
            measure_next: worked
                .measure_next
                .into_iter()
                .map(|it| NextMeasurementOut::of(it, show))
                .collect(),
            discs: worked.discs.into(),
            assumed: trace::assumed(worked.assumed),
            keep_in_mind: trace::reasons(worked.keep_in_mind),
            dig_plan: worked.dig_plan.map(|it| DigPlanOut::of(it, show)),
            cautions: worked.cautions.into_iter().map(CautionOut::of).collect(),
            trace,
            engine: worked.engine.into_owned(),
        }
    }
}
