//! `POST /v1/what-if/planting-depth`

use actix_web::post;
use actix_web::web::Data;
use chrono::{DateTime, Utc};
use domain::provenance::Coefficients;
use domain::quantity::System;
use domain::settings::{FurrowIron, depth};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::report::conditions;
use super::residue_handling::coulter_of;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::contradiction::{Contradiction, contradictions};
use crate::v1::conditions::dto::ConditionsIn;
use crate::v1::planters::makeup::{Coulter, DepthLever, OpenerDisc};
use crate::v1::planters::{discs, lever};
use crate::v1::recommendations::answer::{DepthMoveOut, LeverOut, moves, usual};
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{self, Assumed, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

/// A field, and what makes the furrow.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!(example_body())))]
pub(super) struct PlantingDepthIn {
    /// What was seen and felt in the field.
    pub conditions: ConditionsIn,
    /// The opener discs; as new when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub opener: Option<OpenerDisc>,
    /// The depth lever; with it a notch is answered.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub depth_lever: Option<DepthLever>,
    /// The coulter ahead of the opener; none when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub coulter: Option<Coulter>,
}

/// How deep to plant, measured from the soil under the mat.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_answer())))]
pub(super) struct PlantingDepth {
    /// Depth to start with.
    pub start: Quantity,
    /// Shallowest that is safe here.
    pub safe_low: Quantity,
    /// Deepest that is safe here.
    pub safe_high: Quantity,
    /// The usual depth of the crop, before anything moved it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub usual: Option<Quantity>,
    /// What moved it. The sum is cut off at the ends of what is safe.
    #[schema(max_items = 100)]
    pub moves: Vec<DepthMoveOut>,
    /// What the lever must say: the depth and what worn discs lose.
    pub lever_depth: Quantity,
    /// The notch, where the steps of the lever were given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lever: Option<LeverOut>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// Readings of the report that cannot all be true, and which of them was used.
    #[schema(max_items = 100)]
    pub contradictions: Vec<Contradiction>,
    /// What nobody looked at.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Planting depth.
///
/// The usual depth of the crop, moved by moisture, temperature, texture, residue, hairpins and date,
/// each by a step with its reason, and kept inside what is safe. With a lever also the notch, which
/// allows for what worn discs lose, and what it over- or undershoots.
///
/// Worked example (Michigan State University Extension, 2012, Soybean planting depth; rule read,
/// case ours): soybean goes 1 to 1.5 in deep, to the shallow end for early planting and on fine,
/// moist soil. Planted on 20 April in moist clay loam: 1 in.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_planting_depth", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = PlantingDepthIn, description = "What was seen and felt, and the iron."),
    responses(
        (status = 200, description = "How deep, and why.", body = PlantingDepth),
        ComputeErrors,
    ),
)]
#[post("/what-if/planting-depth")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<PlantingDepthIn>,
) -> Result<Answer<PlantingDepth>, ApiError> {
    let figures = figures_in_force(&app.db, caller.scope()).await?;
    let show = Show(caller.units(query.0.units).into());
    body.into_inner().work_out(app.clock.now(), show, &figures).map(Answer::ok)
}

impl PlantingDepthIn {
    fn work_out(
        &self,
        now: DateTime<Utc>,
        show: Show,
        k: &Coefficients,
    ) -> Result<PlantingDepth, ApiError> {
        let Self { conditions: report, opener, depth_lever, coulter } = self;
        let mut refused = Refused::default();
        let field = conditions(report, now, &mut refused);
        let iron = FurrowIron {
            opener: opener.as_ref().and_then(|it| refused.take_all(discs("/opener", it))),
            lever: depth_lever.as_ref().and_then(|it| refused.take_all(lever("/depth_lever", it))),
            coulter: coulter.as_ref().and_then(|it| refused.take(coulter_of(it))),
        };
        let Some(field) = field else { return Err(refused.into()) };
        refused.finish()?;
        let (field, found) = field.settled(k);
        let advice = depth(&field, iron, k);
        let choice = advice.choice;
        Ok(PlantingDepth {
            start: show.depth(choice.start),
            safe_low: show.depth(choice.safe_low),
            safe_high: show.depth(choice.safe_high),
            usual: usual(&choice, show),
            moves: moves(&choice, show),
            lever_depth: show.depth(choice.lever_depth),
            lever: choice.lever.map(|position| LeverOut::of(position, choice.start, show)),
            because: trace::reasons(advice.because),
            watch: trace::reasons(advice.watch),
            contradictions: contradictions(found),
            assumed: trace::assumed(advice.assumed),
            trace: trace::steps(choice.steps),
        })
    }
}

fn example_body() -> serde_json::Value {
    serde_json::json!({
        "conditions": {
            "observed_at": "2026-04-20T11:30:00Z",
            "crop": "soybean",
            "planting_date": "2026-04-20",
            "texture": "clay_loam",
            "moisture": "moist",
            "previous_crop": "corn",
            "residue_cover": {"value": 40, "unit": "%"}
        },
        "opener": {
            "new_diameter": {"value": 15, "unit": "[in_i]"},
            "measured": {"value": 14.75, "unit": "[in_i]"}
        },
        "depth_lever": {
            "first": {"value": 0.5, "unit": "[in_i]"},
            "step": {"value": 0.25, "unit": "[in_i]"},
            "notches": 14
        }
    })
}

fn example_answer() -> serde_json::Value {
    let given = serde_json::from_value::<PlantingDepthIn>(example_body()).ok();
    let told = given.and_then(|given| {
        let now = given.conditions.observed_at;
        given.work_out(now, Show(System::Us), &Coefficients::STANDARD).ok()
    });
    serde_json::to_value(told).unwrap_or_default()
}
