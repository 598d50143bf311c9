//! `POST /v1/what-if/frame-weight`

use actix_web::post;
use actix_web::web::Data;
use domain::planter::{
    DriveCheck, FrameSection, GroundDrive, RowOnFrame, SectionLoad, drive_check, frame_check,
};
use domain::provenance::{Coefficients, Input, sources};
use domain::quantity::{Angle, Force, Measured, System, bounds};
use domain::settings::{forces, frame_stages};
use domain::stats::Range;

use super::dto::{FrameSectionIn, FrameWeight, FrameWeightIn, SectionWeight};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused, text};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::recommendations::answer::{DriveOut, FrameStageOut};
use crate::v1::recommendations::show::Show;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;
use crate::v1::what_if::member::{entries, optional, whole};
use crate::v1::what_if::step::Known;

/// Weight of the frame.
///
/// Springs, bags and cylinders push against the frame: `N = W_frame - T_hitch - rows (F_dp +
/// R_coulter - H tan(theta))`. When a section has no weight left on its wheels it lifts, and more
/// pressure only lifts it further. Do the sum for each section, with empty tanks. Before that the
/// reserve of weight is used up, and a ground drive slips where weight times grip is less than the
/// pull it needs: the answer says at which down force each of these happens.
///
/// Worked example (statics with invented loads; no published case): a bar of 7000 lb with 1000 lb
/// on the hitch, eight rows at 400 lb of down force and 300 lb of frame coulter, arms level: 400 lb
/// are left, 100 lb on each of four wheels.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_frame_weight", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = FrameWeightIn, description = "Sections and rows."),
    responses((status = 200, description = "What is left on the wheels.", body = FrameWeight), ComputeErrors),
)]
#[post("/what-if/frame-weight")]
pub(in crate::v1::what_if) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<FrameWeightIn>,
) -> Result<Answer<FrameWeight>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

struct Case {
    sections: Vec<FrameSection>,
    row: RowOnFrame,
    reserve: Force,
    drive: Option<GroundDrive>,
}

impl FrameWeightIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<FrameWeight, ApiError> {
        let case = self.parse(k)?;
        let (verdict, loads) = frame_check(&case.sections, case.row, case.reserve);
        let mut trace: Vec<TraceStep> =
            case.sections.iter().zip(&loads).map(|(s, load)| case.step(s, load)).collect();
        let grip = Range::of(&k.drive_friction);
        let drive = case
            .drive
            .as_ref()
            .and_then(|drive| drive_check(drive, &case.sections, case.row, grip));
        trace.extend(drive.as_ref().and_then(|check| case.slip_step(check)));
        let stages = frame_stages(&loads, drive.as_ref(), case.row.down_force);
        let sections =
            case.sections.iter().zip(loads).map(|(s, load)| shown(s, load, system)).collect();
        let mut defaults = Vec::new();
        if self.reserve.is_none() {
            defaults.push(Coefficient::from(&k.frame_reserve));
        }
        if case.drive.as_ref().is_some_and(|drive| drive.friction.is_none()) {
            defaults.push(Coefficient::from(&k.drive_friction));
        }
        let show = Show(system);
        Ok(FrameWeight {
            verdict: verdict.into(),
            meaning: verdict.words(),
            sections,
            stages: stages.iter().map(|stage| FrameStageOut::of(stage, show)).collect(),
            ground_drive: drive.as_ref().map(|check| DriveOut::of(check, show)),
            defaults,
            trace,
        })
    }

    fn parse(&self, k: &Coefficients) -> Result<Case, ApiError> {
        let mut refused = Refused::default();
        let few = entries("/sections", self.sections.len(), (1, 20), "a frame has a few sections");
        refused.take(few);
        let sections: Vec<FrameSection> = self
            .sections
            .iter()
            .enumerate()
            .filter_map(|(index, section)| section.parse(index, &mut refused))
            .collect();
        let down_force = refused.take(self.down_force.parse("/down_force", &bounds::DOWN_FORCE));
        let coulter = self.frame_coulter.as_ref();
        let coulter = optional(&mut refused, coulter, "/frame_coulter", &bounds::ROW_FORCE);
        let draft = optional(&mut refused, self.draft.as_ref(), "/draft", &bounds::ROW_DRAFT);
        let angle =
            optional(&mut refused, self.arm_angle.as_ref(), "/arm_angle", &bounds::ARM_ANGLE);
        if self.arm_angle.is_some() && self.draft.is_none() {
            refused.add(BadMember::new("/draft", "Arms that are not level need the draft."));
        }
        let reserve =
            optional(&mut refused, self.reserve.as_ref(), "/reserve", &bounds::FRAME_WEIGHT);
        let drive = self
            .ground_drive
            .as_ref()
            .and_then(|given| refused.take_all(given.parse("/ground_drive", &sections)));
        let Some(down_force) = down_force else { return Err(refused.into()) };
        refused.finish()?;
        let zero = Force::from_si(0.0);
        let level = Angle::from_si(0.0);
        let arm = forces::arm_force(draft.unwrap_or(zero), angle.unwrap_or(level));
        Ok(Case {
            sections,
            row: RowOnFrame { down_force, coulter: coulter.unwrap_or(zero), arm_pull: -arm },
            reserve: reserve.unwrap_or_else(|| Force::from_si(k.frame_reserve.value)),
            drive,
        })
    }
}

impl FrameSectionIn {
    fn parse(&self, index: usize, refused: &mut Refused) -> Option<FrameSection> {
        let at = |name: &str| format!("/sections/{index}/{name}");
        let name = refused.take(text::name(&at("name"), &self.name));
        let why = "planters have up to 64 rows";
        let rows = refused.take(whole(&at("rows"), self.rows, (1, 64), why));
        let why = "a section that can lift stands on a wheel";
        let wheels = refused.take(whole(&at("wheels"), self.wheels, (1, 64), why));
        let weight =
            refused.take(self.empty_weight.parse(&at("empty_weight"), &bounds::FRAME_WEIGHT));
        let hitch = refused.take(self.on_hitch.parse(&at("on_hitch"), &bounds::FRAME_WEIGHT));
        let (name, rows, wheels) = (name?, rows?, wheels?);
        let (empty_weight, on_hitch) = (weight?, hitch?);
        if on_hitch > empty_weight {
            refused.add(
                BadMember::new(at("on_hitch"), "The hitch carries more than the section weighs.")
                    .why("the part is not more than the whole"),
            );
            return None;
        }
        let (rows, wheels) = (u16::try_from(rows).ok()?, u16::try_from(wheels).ok()?);
        Some(FrameSection { name, rows, empty_weight, on_hitch, wheels })
    }
}

const LEFT: Known = Known::derived(
    "weight left on the wheels",
    "W_frame - T_hitch - rows (F_dp + R_coulter - H tan(theta))",
    sources::STATICS,
);

const SLIPS: Known = Known::derived(
    "down force at which the ground drive slips",
    "(W_frame - T_hitch) / rows - R_coulter + H tan(theta) - pull / (mu rows)",
    sources::STATICS,
);

impl Case {
    fn step(&self, section: &FrameSection, load: &SectionLoad) -> TraceStep {
        let inputs = vec![
            Input::new("W_frame", section.empty_weight.si(), "N"),
            Input::new("T_hitch", section.on_hitch.si(), "N"),
            Input::new("rows", f64::from(section.rows), "1"),
            Input::new("F_dp", self.row.down_force.si(), "N"),
            Input::new("R_coulter", self.row.coulter.si(), "N"),
            Input::new("H tan(theta)", self.row.arm_pull.si(), "N"),
        ];
        LEFT.gives(inputs, load.left_on_wheels.si(), "N")
    }

    fn slip_step(&self, check: &DriveCheck) -> Option<TraceStep> {
        let drive = self.drive.as_ref()?;
        let section = self.sections.iter().find(|s| s.name == check.section)?;
        let inputs = vec![
            Input::new("W_frame", section.empty_weight.si(), "N"),
            Input::new("T_hitch", section.on_hitch.si(), "N"),
            Input::new("rows", f64::from(section.rows), "1"),
            Input::new("R_coulter", self.row.coulter.si(), "N"),
            Input::new("H tan(theta)", self.row.arm_pull.si(), "N"),
            Input::new("pull", drive.pull.si(), "N"),
            Input::new("mu", drive.pull.si() / check.needs.si(), "1"),
        ];
        Some(SLIPS.gives(inputs, check.slips_at.si(), "N"))
    }
}

fn shown(section: &FrameSection, load: SectionLoad, system: System) -> SectionWeight {
    let SectionLoad { name, left_on_wheels, most_per_row, lifts_at, .. } = load;
    let each = left_on_wheels / f64::from(section.wheels.max(1));
    SectionWeight {
        name,
        left_on_wheels: Quantity::show(&bounds::FRAME_WEIGHT, left_on_wheels, system),
        left_on_each_wheel: Quantity::show(&bounds::FRAME_WEIGHT, each, system),
        most_down_force: Quantity::show(&bounds::DOWN_FORCE, most_per_row, system),
        lifts_at: lifts_at.map(|force| Quantity::show(&bounds::DOWN_FORCE, force, system)),
    }
}
