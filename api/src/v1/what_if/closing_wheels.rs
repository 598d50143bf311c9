//! `POST /v1/what-if/closing-wheels`

use actix_web::post;
use actix_web::web::Data;
use chrono::{DateTime, Utc};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, Speed, bounds};
use domain::settings::{ClosingWheels, Pass, closing, closing_steps, depth};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{entries, optional, whole};
use super::report::conditions;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::contradiction::{Contradiction, contradictions};
use crate::v1::conditions::dto::ConditionsIn;
use crate::v1::planters::ClosingPair;
use crate::v1::recommendations::answer::ClosingOut;
use crate::v1::trace::{self, Assumed, TraceStep};

/// A field, and the closing wheels that are there.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!(example_body())))]
pub(super) struct ClosingWheelsIn {
    /// What was seen and felt in the field.
    pub conditions: ConditionsIn,
    /// The pair that is fitted.
    pub fitted: ClosingPair,
    /// Pairs that hang in the shed.
    #[serde(default)]
    #[schema(max_items = 5)]
    pub owned: Vec<ClosingPair>,
    /// Rows of the planter; 8 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 8)]
    pub rows: Option<u16>,
    /// Depth of the furrow; the advised depth when absent. Bound: `planting_depth`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub depth: Option<Quantity>,
    /// Ground speed; the reference speed when absent. Bound: `ground_speed`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub speed: Option<Quantity>,
}

/// How to close the slot.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_answer())))]
pub(super) struct ClosingWheelsResult {
    /// The pair, the spring, the chain, and the ranking with its reasons.
    pub closing: ClosingOut,
    /// Readings of the report that cannot all be true, and which of them was used.
    #[schema(max_items = 100)]
    pub contradictions: Vec<Contradiction>,
    /// What nobody looked at.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation: weight times grade, pair by pair.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Closing wheels.
///
/// Each pair is graded on six criteria, from breaking the wall to leaving the seed where it lies;
/// each criterion counts as much as this field asks for it. Grades and weights are coefficients
/// (`closing_...` and `ask_...`), this project's own choice, and can be changed by a practice; what
/// they say has its source. The answer ranks what is fitted or owned, and what would suit better.
///
/// Worked example (Colorado State University Extension, about 2016, Ten things to check before
/// planting season; rule read, case ours): one spiked and one rubber wheel for cool, moist planting
/// in heavy soils. Moist silty clay loam, rubber fitted, that pair in the shed: run it, on two rows
/// first.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_closing_wheels", security(("bearer" = ["read"])),
    request_body(content = ClosingWheelsIn, description = "What was seen, and the wheels."),
    responses(
        (status = 200, description = "How to close, and why.", body = ClosingWheelsResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/closing-wheels")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    body: Body<ClosingWheelsIn>,
) -> Result<Answer<ClosingWheelsResult>, ApiError> {
    let figures = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(app.clock.now(), &figures).map(Answer::ok)
}

/// Rows when nobody said.
const USUAL_ROWS: u16 = 8;

impl ClosingWheelsIn {
    fn work_out(
        &self,
        now: DateTime<Utc>,
        k: &Coefficients,
    ) -> Result<ClosingWheelsResult, ApiError> {
        let Self { conditions: report, fitted, owned, rows, depth: given_depth, speed } = self;
        let mut refused = Refused::default();
        let field = conditions(report, now, &mut refused);
        refused.take(entries("/owned", owned.len(), (0, 5), "there are five pairs"));
        let rows = rows.unwrap_or(USUAL_ROWS);
        refused.take(whole("/rows", rows.into(), (1, 64), "planters have up to 64 rows"));
        let furrow: Option<Length> =
            optional(&mut refused, given_depth.as_ref(), "/depth", &bounds::PLANTING_DEPTH);
        let speed: Option<Speed> =
            optional(&mut refused, speed.as_ref(), "/speed", &bounds::GROUND_SPEED);
        let Some(field) = field else { return Err(refused.into()) };
        refused.finish()?;
        let (field, found) = field.settled(k);
        let pass = Pass {
            depth: furrow.unwrap_or_else(|| depth(&field, no_iron(), k).choice.start),
            speed: speed.unwrap_or_else(|| Speed::from_si(k.reference_speed.value * 0.447_04)),
        };
        let owned: Vec<_> = owned.iter().copied().map(Into::into).collect();
        let wheels = ClosingWheels { fitted: (*fitted).into(), owned: &owned, rows };
        let advice = closing(&field, wheels, pass, k);
        Ok(ClosingWheelsResult {
            closing: ClosingOut::of(&advice),
            contradictions: contradictions(found),
            assumed: trace::assumed(advice.assumed),
            trace: trace::steps(closing_steps(&advice.choice)),
        })
    }
}

/// Nothing is known of what makes the furrow.
const fn no_iron() -> domain::settings::FurrowIron {
    domain::settings::FurrowIron { opener: None, lever: None, coulter: None }
}

fn example_body() -> serde_json::Value {
    serde_json::json!({
        "conditions": {
            "observed_at": "2026-04-28T11:30:00Z",
            "crop": "corn",
            "texture": "silty_clay_loam",
            "moisture": "moist",
            "soil_temperature": {"value": 53, "unit": "[degF]"},
            "residue_cover": {"value": 60, "unit": "%"}
        },
        "fitted": "rubber",
        "owned": ["spiked_and_rubber", "two_spiked"],
        "rows": 12
    })
}

fn example_answer() -> serde_json::Value {
    let given = serde_json::from_value::<ClosingWheelsIn>(example_body()).ok();
    let told = given.and_then(|given| {
        given.work_out(given.conditions.observed_at, &Coefficients::STANDARD).ok()
    });
    serde_json::to_value(told).unwrap_or_default()
}
