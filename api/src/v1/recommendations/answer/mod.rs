//! A recommendation as the caller reads it: the stored result in the caller's units.

mod closing;
mod cover;
mod depth;
mod down_force;
mod example;
mod forces;
mod frame;
mod hopper;
mod in_furrow;
mod more;
mod power;
mod residue;
mod seed_order;
mod settings;
mod sheet_of_settings;
mod work;

pub use closing::{AskOut, ClosingOut, GradeOut, RankedPairOut, WallOut};
pub use cover::{CoverOut, StarterOut};
pub use depth::{DepthMoveOut, DepthOut, LeverOut, moves, usual};
pub use down_force::{
    BoxStateOut, DownForceOut, ReachOut, SetOnPlanter, WindowEdgesOut, WindowOut,
};
pub use forces::{ForceOut, PointCheckOut, SettableOut, SoilOut, SourceKnownOut, SourceOut};
pub use frame::{DriveOut, FrameOut, FrameStageOut, SectionOut};
pub use hopper::{HopperChangeOut, HopperOut, LevelSettingOut};
pub use in_furrow::{CaughtOut, InFurrowOut, OtherLimitOut, OutletOut, SaltOut, TankOut};
pub use more::{CautionOut, NarrowingOut, NextMeasurementOut, RemedyOut, TodayOut};
pub use power::{PowerOut, QuantityRange};
pub use residue::{CleanerOut, CoulterOut, OldRowsOut, RiskPointOut, points};
pub use seed_order::SeedOrderOut;
pub use settings::{SeedingOut, SettingsOut, SpeedOut};
pub use sheet_of_settings::SheetOfSettings;
pub use work::{
    LossOut, LossRangeOut, PaceOut, PriceOfSpeedOut, SourcedLossOut, SpeedLimitOut, WorkOut,
    area_an_hour,
};

use chrono::{DateTime, Utc};
use domain::provenance::Step;
use domain::quantity::System;
use domain::settings::{Inputs, Recommendation as Worked, closing_steps};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::goals::GoalsIn;
use super::in_shed::{InShed, OpenReplacementOut, OpenerMeasuredOut};
use super::show::Show;
use super::store;
use super::words::{DiscVerdict, RecommendationStatus};
use crate::entities::recommendations;
use crate::http::ApiError;
use crate::v1::conditions::contradiction::Contradiction;
use crate::v1::conditions::pests::PestFinding;
use crate::v1::dig_plan::DigPlanOut;
use crate::v1::learned::LearnedOut;
use crate::v1::trace::{Assumed, Reason, TraceStep};

/// Settings for one planter in one field, with reasons and ranges. Never changed once issued.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub struct Recommendation {
    /// Id of the recommendation.
    pub id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The conditions report it rests on.
    pub conditions_id: Uuid,
    /// The calibration it rests on; absent when nobody made one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub calibration_id: Option<Uuid>,
    /// The coefficients it was worked out with; absent for those made before sets were kept.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub coefficient_set_id: Option<Uuid>,
    /// The series that the revisions of one recommendation share.
    pub series_id: Uuid,
    /// Counts the revisions of the series.
    #[schema(minimum = 1, example = 1)]
    pub revision: i32,
    /// The revision that this one takes the place of.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub replaces_id: Option<Uuid>,
    /// Where it stands.
    pub status: RecommendationStatus,
    /// What the advisor wanted, as entered.
    pub goals: GoalsIn,
    /// Whether to plant today.
    pub today: TodayOut,
    /// The settings.
    pub settings: SettingsOut,
    /// What digs taught about this planter, soil and field, and what that changed; absent where nobody
    /// in the practice dug.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub learned: Option<LearnedOut>,
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
    /// Acres, days, the price of speed, and seed for the area.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub work: Option<WorkOut>,
    /// Draft and power at the advised speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub power: Option<PowerOut>,
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
    /// What inspections found worn out on the planter and nobody has mended: as it is now, not as it was
    /// when this was worked out. Look there before you blame the settings.
    #[schema(max_items = 100)]
    pub open_replacements: Vec<OpenReplacementOut>,
    /// Where an inspection measured other opener discs than this recommendation reckons with; as it is
    /// now.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub opener_measured: Option<OpenerMeasuredOut>,
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
    /// Counts the changes of status; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// Account of the maker.
    pub created_by: Uuid,
    /// When it was issued.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub issued_at: Option<DateTime<Utc>>,
    /// Account that issued it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub issued_by: Option<Uuid>,
    /// When it was acknowledged.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub acknowledged_at: Option<DateTime<Utc>>,
    /// Account that acknowledged it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub acknowledged_by: Option<Uuid>,
}

impl Recommendation {
    /// The answer for a row, in these units.
    pub fn of(
        row: &recommendations::Model,
        system: System,
        beside: InShed,
    ) -> Result<Self, ApiError> {
        let goals = GoalsIn::stored(row)?;
        let inputs = store::inputs_of(row)?;
        let worked = store::result_of(row)?;
        let shown = Self::shown(row, goals, &inputs, worked, Show(system));
        let InShed { open: open_replacements, opener: opener_measured } = beside;
        Ok(Self { open_replacements, opener_measured, ..shown })
    }

    fn shown(
        row: &recommendations::Model,
        goals: GoalsIn,
        inputs: &Inputs,
        worked: Worked,
        show: Show,
    ) -> Self {
        // Taken apart completely: what the sheet says, the recommendation says.
        let SheetOfSettings {
            today,
            settings,
            learned,
            work,
            power,
            contradictions,
            cover,
            pests,
            remedies,
            instructions,
            measure_next,
            discs,
            assumed,
            keep_in_mind,
            dig_plan,
            cautions,
            trace,
            engine,
        } = SheetOfSettings::of(worked, inputs, show);
        Self {
            id: row.id,
            field_id: row.field_id,
            planter_id: row.planter_id,
            conditions_id: row.conditions_id,
            calibration_id: row.calibration_id,
            coefficient_set_id: row.coefficient_set_id,
            series_id: row.series_id,
            revision: row.revision,
            replaces_id: row.replaces_id,
            status: row.status.into(),
            goals,
            today,
            settings,
            learned,
            work,
            power,
            contradictions,
            cover,
            pests,
            remedies,
            instructions,
            measure_next,
            discs,
            open_replacements: Vec::new(),
            opener_measured: None,
            assumed,
            keep_in_mind,
            dig_plan,
            cautions,
            trace,
            engine,
            version: row.version,
            created_at: row.created_at,
            created_by: row.created_by,
            issued_at: row.issued_at,
            issued_by: row.issued_by,
            acknowledged_at: row.acknowledged_at,
            acknowledged_by: row.acknowledged_by,
        }
    }
}

/// Depth first, then the forces, the wall, seeding, and the furrow.
fn steps(worked: &Worked) -> Vec<Step> {
    let wall = worked.wall.iter().flat_map(|advice| &advice.choice.steps);
    let hairpins = worked.coulter.choice.hairpin_step();
    let wrap = (!worked.row_cleaner.choice.points.is_empty())
        .then(|| worked.row_cleaner.choice.wrap_step());
    let ranked = closing_steps(&worked.closing.choice);
    let seeding = worked.seeding.iter().flat_map(|advice| &advice.choice.steps);
    let in_furrow = worked.in_furrow.iter().flat_map(|advice| &advice.choice.steps);
    let forces = worked.depth.choice.steps.iter().chain(&worked.trace.steps);
    let work = worked.work.iter().flat_map(|advice| &advice.choice.steps);
    let power = worked.power.iter().flat_map(|advice| &advice.choice.steps);
    let first = forces.chain(wall).cloned();
    let then = seeding.chain(in_furrow).chain(work).chain(power).cloned();
    first.chain(hairpins).chain(wrap).chain(ranked).chain(then).collect()
}

/// The inputs of the worked case of the API document.
pub fn example_inputs() -> Option<Inputs> {
    example::inputs()
}

/// A recommendation for the API document, worked out by the engine.
pub fn example() -> serde_json::Value {
    serde_json::to_value(example::recommendation()).unwrap_or_default()
}

/// A part of that example.
fn example_at(pointer: &str) -> serde_json::Value {
    example().pointer(pointer).cloned().unwrap_or_default()
}
