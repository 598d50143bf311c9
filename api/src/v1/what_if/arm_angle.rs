//! `POST /v1/what-if/arm-angle`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::{Coefficients, Input, sources};
use domain::quantity::{Force, Length, Measured, System, bounds};
use domain::settings::forces;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, ProblemCode, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// A toolbar that runs too high or too low.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "bar_too_high": {"value": 51, "unit": "mm"},
    "arm_length": {"value": 380, "unit": "mm"},
    "draft": {"value": 1000, "unit": "N"}
})))]
pub(super) struct ArmAngleIn {
    /// How much higher the bar runs than level arms need; negative when too low. Bound:
    /// `bar_height_error`.
    pub bar_too_high: Quantity,
    /// Length of a parallel arm; the coefficient `arm_length` when absent. Bound: `arm_length`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub arm_length: Option<Quantity>,
    /// Horizontal pull of one row; without it only the angle is answered. Bound: `row_draft`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub draft: Option<Quantity>,
}

/// The angle of the arms and what it does to the load.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "arm_angle": {"value": 7.71297, "unit": "deg"},
    "arm_force": {"value": -30.4472, "unit": "[lbf_av]"},
    "defaults": [],
    "trace": [
        {
            "step": "arm angle",
            "formula": "asin(dh / L)",
            "inputs": [
                {"symbol": "dh", "value": 51, "unit": "mm"},
                {"symbol": "L", "value": 380, "unit": "mm"}
            ],
            "value": 7.71297,
            "unit": "deg",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "what the arms add to the load",
            "formula": "-H tan(theta)",
            "inputs": [
                {"symbol": "H", "value": 1000, "unit": "N"},
                {"symbol": "theta", "value": 7.71297, "unit": "deg"}
            ],
            "value": -135.436,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct ArmAngleResult {
    /// Angle below the horizontal, toolbar to unit; negative slopes up.
    pub arm_angle: Quantity,
    /// What the arms add to the load of the row; negative lifts the unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub arm_force: Option<Quantity>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1000)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Arm angle from bar height.
///
/// `sin(theta) = dh / L`; the arms then add `-H tan(theta)` to the load of the row. A bar that runs
/// too high lets the draft lift the unit, a bar too low lets it push the unit down; with level arms
/// the draft has no say. Measure the height with the planter lowered and all down force at zero.
///
/// Worked example (statics; no published case): a bar 51 mm (2 in) too high on arms of 380 mm gives
/// 7.7 degrees; at 1000 N of draft the unit is lifted by 135 N (30 lbf).
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_arm_angle", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = ArmAngleIn, description = "Bar height and arms."),
    responses((status = 200, description = "The angle.", body = ArmAngleResult), ComputeErrors),
)]
#[post("/what-if/arm-angle")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<ArmAngleIn>,
) -> Result<Answer<ArmAngleResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl ArmAngleIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<ArmAngleResult, ApiError> {
        let Self { bar_too_high, arm_length, draft } = self;
        let mut refused = Refused::default();
        let high = refused.take(bar_too_high.parse("/bar_too_high", &bounds::BAR_HEIGHT_ERROR));
        let length =
            optional(&mut refused, arm_length.as_ref(), "/arm_length", &bounds::ARM_LENGTH);
        let draft = optional(&mut refused, draft.as_ref(), "/draft", &bounds::ROW_DRAFT);
        let Some(high) = high else { return Err(refused.into()) };
        refused.finish()?;
        let defaults =
            if length.is_none() { vec![Coefficient::from(&k.arm_length)] } else { vec![] };
        let arm = length.unwrap_or_else(|| Length::from_si(k.arm_length.value / 1000.0));
        let angle = forces::arm_angle(high, arm).ok_or_else(|| upright(&bar_too_high))?;
        let degrees = angle.si().to_degrees();
        let mut trace = vec![ANGLE.gives(
            vec![
                Input::new("dh", high.si() * 1000.0, "mm"),
                Input::new("L", arm.si() * 1000.0, "mm"),
            ],
            degrees,
            "deg",
        )];
        let force = draft.map(|draft| forces::arm_force(draft, angle));
        if let Some((draft, force)) = draft.zip(force) {
            trace.push(arm_force_step(draft, degrees, force));
        }
        Ok(ArmAngleResult {
            arm_angle: Quantity::show(&bounds::ARM_ANGLE, angle, system),
            arm_force: force.map(|force| Quantity::show(&bounds::DOWN_FORCE, force, system)),
            defaults,
            trace,
        })
    }
}

const ANGLE: Known = Known::derived("arm angle", "asin(dh / L)", sources::STATICS);
const FORCE: Known =
    Known::derived("what the arms add to the load", "-H tan(theta)", sources::STATICS);

/// The step of the arm force, also for the balance of a row.
pub(super) fn arm_force_step(draft: Force, degrees: f64, force: Force) -> TraceStep {
    let inputs = vec![Input::new("H", draft.si(), "N"), Input::new("theta", degrees, "deg")];
    FORCE.gives(inputs, force.si(), "N")
}

fn upright(given: &Quantity) -> ApiError {
    let member = BadMember::new("/bar_too_high", "The bar is off by as much as the arms are long.")
        .given(format!("{} {}", given.value, given.unit))
        .allowed("less than the length of the arms")
        .why("arms that stand upright carry no unit");
    ApiError::new(ProblemCode::OutsideValidity, "No arms can stand at this angle.")
        .with_members(vec![member])
}
