//! `POST /v1/what-if/frame-weight`

use actix_web::post;
use domain::planter::{FrameSection, RowOnFrame, SectionLoad, frame_check};
use domain::provenance::{Coefficients, Input, sources};
use domain::quantity::{Angle, Force, Measured, System, bounds};
use domain::settings::forces;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{entries, optional, whole};
use super::step::{Known, answer};
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused, text};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::recommendations::FrameVerdict;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// The sections of a frame, and what each row does to it.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "sections": [{
        "name": "whole bar", "rows": 8, "wheels": 4,
        "empty_weight": {"value": 7000, "unit": "[lbf_av]"},
        "on_hitch": {"value": 1000, "unit": "[lbf_av]"}
    }],
    "down_force": {"value": 400, "unit": "[lbf_av]"},
    "frame_coulter": {"value": 300, "unit": "[lbf_av]"}
})))]
pub(super) struct FrameWeightIn {
    /// The parts that can lift by themselves: wings, centre, or the whole bar.
    #[schema(min_items = 1, max_items = 20)]
    pub sections: Vec<FrameSectionIn>,
    /// Down force on each row. Bound: `down_force`.
    pub down_force: Quantity,
    /// Upward reaction of a coulter that hangs on the frame, for each row; none when absent.
    /// Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub frame_coulter: Option<Quantity>,
    /// Horizontal pull of one row; needed with `arm_angle`. Bound: `row_draft`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub draft: Option<Quantity>,
    /// Angle of the arms below the horizontal; level when absent. Bound: `arm_angle`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub arm_angle: Option<Quantity>,
    /// Weight that must stay on the wheels of a section; the coefficient `frame_reserve` when
    /// absent. Bound: `frame_weight`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub reserve: Option<Quantity>,
}

/// A part of the frame that can lift by itself.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "name": "left wing", "rows": 4, "wheels": 2,
    "empty_weight": {"value": 3500, "unit": "[lbf_av]"}, "on_hitch": {"value": 0, "unit": "[lbf_av]"}
})))]
pub(super) struct FrameSectionIn {
    /// What people call it.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "left wing",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Rows that it carries.
    #[schema(minimum = 1, maximum = 64, example = 4)]
    pub rows: u32,
    /// Wheels that carry it.
    #[schema(minimum = 1, maximum = 64, example = 2)]
    pub wheels: u32,
    /// Weight that it carries with empty tanks, without the row units. Bound: `frame_weight`.
    pub empty_weight: Quantity,
    /// The part of that weight that the tractor carries. Bound: `frame_weight`.
    pub on_hitch: Quantity,
}

/// Whether the frame holds the units down.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "verdict": "holds",
    "sections": [
        {
            "name": "whole bar",
            "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
            "left_on_each_wheel": {"value": 100, "unit": "[lbf_av]"},
            "most_down_force": {"value": 437.495, "unit": "[lbf_av]"}
        }
    ],
    "defaults": [
        {
            "name": "frame_reserve",
            "symbol": "N_min",
            "what": "Weight that must stay on the wheels of a frame section, tanks empty",
            "value": 445,
            "low": 222,
            "high": 890,
            "unit": "N",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source",
            "corrected_by_digs": false
        }
    ],
    "trace": [
        {
            "step": "weight left on the wheels",
            "formula": "W_frame - T_hitch - rows (F_dp + R_coulter - H tan(theta))",
            "inputs": [
                {"symbol": "W_frame", "value": 31137.6, "unit": "N"},
                {"symbol": "T_hitch", "value": 4448.22, "unit": "N"},
                {"symbol": "rows", "value": 8, "unit": "1"},
                {"symbol": "F_dp", "value": 1779.29, "unit": "N"},
                {"symbol": "R_coulter", "value": 1334.47, "unit": "N"},
                {"symbol": "H tan(theta)", "value": 0, "unit": "N"}
            ],
            "value": 1779.29,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct FrameWeight {
    /// The verdict, by the lightest section.
    pub verdict: FrameVerdict,
    /// Section by section.
    #[schema(max_items = 20)]
    pub sections: Vec<SectionWeight>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1000)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// What is left on the wheels of a section.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "whole bar", "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
    "left_on_each_wheel": {"value": 100, "unit": "[lbf_av]"}, "most_down_force": {"value": 437.495, "unit": "[lbf_av]"}
})))]
pub(super) struct SectionWeight {
    /// Its name.
    #[schema(example = "whole bar")]
    pub name: String,
    /// Weight left on its wheels together; negative when it lifts.
    pub left_on_wheels: Quantity,
    /// The same for each wheel.
    pub left_on_each_wheel: Quantity,
    /// The most down force on each row at which the reserve stays on the wheels.
    pub most_down_force: Quantity,
}

/// Weight of the frame.
///
/// Springs, bags and cylinders push against the frame: `N = W_frame - T_hitch - rows (F_dp +
/// R_coulter - H tan(theta))`. When a section has no weight left on its wheels it lifts, and more
/// pressure only lifts it further. Do the sum for each section, with empty tanks.
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
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<FrameWeightIn>,
) -> Result<Answer<FrameWeight>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

struct Case {
    sections: Vec<FrameSection>,
    row: RowOnFrame,
    reserve: Force,
}

impl FrameWeightIn {
    fn work_out(self, system: System) -> Result<FrameWeight, ApiError> {
        let case = self.parse()?;
        let (verdict, loads) = frame_check(&case.sections, case.row, case.reserve);
        let trace = case.sections.iter().zip(&loads).map(|(s, load)| case.step(s, load)).collect();
        let sections =
            case.sections.iter().zip(loads).map(|(s, load)| shown(s, load, system)).collect();
        let defaults = match self.reserve {
            Some(_) => vec![],
            None => vec![Coefficient::from(&Coefficients::STANDARD.frame_reserve)],
        };
        Ok(FrameWeight { verdict: verdict.into(), sections, defaults, trace })
    }

    fn parse(&self) -> Result<Case, ApiError> {
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
        let Some(down_force) = down_force else { return Err(refused.into()) };
        refused.finish()?;
        let zero = Force::from_si(0.0);
        let level = Angle::from_si(0.0);
        let arm = forces::arm_force(draft.unwrap_or(zero), angle.unwrap_or(level));
        Ok(Case {
            sections,
            row: RowOnFrame { down_force, coulter: coulter.unwrap_or(zero), arm_pull: -arm },
            reserve: reserve
                .unwrap_or_else(|| Force::from_si(Coefficients::STANDARD.frame_reserve.value)),
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
}

fn shown(section: &FrameSection, load: SectionLoad, system: System) -> SectionWeight {
    let SectionLoad { name, left_on_wheels, most_per_row } = load;
    let each = left_on_wheels / f64::from(section.wheels.max(1));
    SectionWeight {
        name,
        left_on_wheels: Quantity::show(&bounds::FRAME_WEIGHT, left_on_wheels, system),
        left_on_each_wheel: Quantity::show(&bounds::FRAME_WEIGHT, each, system),
        most_down_force: Quantity::show(&bounds::DOWN_FORCE, most_per_row, system),
    }
}
