//! `POST /v1/what-if/fitness`

use actix_web::post;
use actix_web::web::Data;
use chrono::{DateTime, Utc};
use domain::conditions::{self, seed_zone};
use domain::provenance::Coefficients;
use domain::quantity::{System, bounds};
use serde::Serialize;
use utoipa::ToSchema;

use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::contradiction::{Contradiction, contradictions};
use crate::v1::conditions::dto::ConditionsIn;
use crate::v1::recommendations::Verdict;
use crate::v1::trace::{self, Assumed, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

/// Whether to plant today, and why.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "today": "wait",
    "because": [
        {
            "text": "a ribbon of 4.0 in is longer than 3 in: too wet",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "Penn State Extension 2018, in a county council note. To prevent sidewall compaction"
        }
    ],
    "watch": [
        {
            "text": "rain within two days and soil near 50 °F: wait",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "University of Tennessee Extension, as reported in the local press, n.d. Forecasted freezing temps should pause planting"
        },
        {
            "text": "the soil is warm enough, but warmth does not make wet soil fit",
            "mark": "proposal",
            "mark_words": "this project's own choice",
            "source": "this project's own choice"
        }
    ],
    "contradictions": [],
    "seed_zone_temperature": {"value": 62, "unit": "[degF]"},
    "assumed": [
        {
            "what": "ball test",
            "used": "not counted",
            "instead": "press soil from seed depth to a ball",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source"
        },
        {
            "what": "moisture at seed depth",
            "used": "moist",
            "instead": "squeeze soil from seed depth and report how it feels",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source"
        },
        {
            "what": "lowest soil temperature of the next 48 h",
            "used": "50 °F or more",
            "instead": "look it up in the forecast",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source"
        },
        {
            "what": "rain of the next 48 h",
            "used": "none",
            "instead": "look it up in the forecast",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source"
        }
    ],
    "trace": []
})))]
pub(super) struct Fitness {
    /// What to do today.
    pub today: Verdict,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// Readings that cannot all be true, and which of them was used.
    #[schema(max_items = 100)]
    pub contradictions: Vec<Contradiction>,
    /// Soil temperature where the seed will lie, where it was read.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seed_zone_temperature: Option<Quantity>,
    /// What nobody looked at.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation, where there is one.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Whether to plant today.
///
/// The worst of what was seen decides, by rules and not by a formula: ball, ribbon and feel of the
/// soil, its temperature and the forecast. A wait from wet soil is never overridden by warmth. Where
/// readings contradict each other the safer one counts, and the answer names them. When nobody
/// looked at the wetness of the soil, the answer is to wait and look.
///
/// Worked example (Penn State Extension, 2018, To prevent sidewall compaction, rule read, case
/// ours): a ribbon longer than 3 in is too wet. A ribbon of 4 in says wait, though the soil is warm.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_fitness", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(
        content = ConditionsIn, description = "What was seen and felt.",
        example = json!({
            "observed_at": "2026-04-20T12:00:00Z", "crop": "corn", "texture": "silt_loam",
            "ribbon": {"value": 4, "unit": "[in_i]"},
            "soil_temperature": {"value": 62, "unit": "[degF]"}
        })
    ),
    responses((status = 200, description = "The verdict.", body = Fitness), ComputeErrors),
)]
#[post("/what-if/fitness")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<ConditionsIn>,
) -> Result<Answer<Fitness>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    let system = caller.units(query.0.units).into();
    judge(&body.into_inner(), app.clock.now(), system, &k).map(Answer::ok)
}

fn judge(
    given: &ConditionsIn,
    now: DateTime<Utc>,
    system: System,
    k: &Coefficients,
) -> Result<Fitness, ApiError> {
    let (field, found) = given.parse(now)?.settled(k);
    let advice = conditions::fitness(&field, k);
    let zone = seed_zone(&field, k);
    Ok(Fitness {
        today: advice.choice.into(),
        because: trace::reasons(advice.because),
        watch: trace::reasons(advice.watch),
        contradictions: contradictions(found),
        seed_zone_temperature: zone
            .as_ref()
            .map(|zone| Quantity::show(&bounds::SOIL_TEMPERATURE, zone.likely, system)),
        assumed: trace::assumed(advice.assumed),
        trace: zone.map_or_else(Vec::new, |zone| trace::steps(zone.steps)),
    })
}
