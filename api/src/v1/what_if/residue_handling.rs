//! `POST /v1/what-if/residue-handling`

use actix_web::post;
use actix_web::web::Data;
use chrono::{DateTime, Utc};
use domain::planter;
use domain::provenance::Coefficients;
use domain::quantity::{System, bounds};
use domain::settings::{coulter, old_rows, row_cleaner};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::report::conditions;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::contradiction::{Contradiction, contradictions};
use crate::v1::conditions::dto::ConditionsIn;
use crate::v1::planters::RowCleaner;
use crate::v1::planters::makeup::Coulter;
use crate::v1::recommendations::answer::{CleanerOut, CoulterOut, OldRowsOut};
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{self, Assumed, TraceStep};
use crate::v1::units::UnitsQuery;

/// A field, and what runs ahead of the opener.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!(example_body())))]
pub(super) struct ResidueHandlingIn {
    /// What was seen and felt in the field.
    pub conditions: ConditionsIn,
    /// The coulter ahead of the opener; none when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub coulter: Option<Coulter>,
    /// The row cleaner.
    pub cleaner: RowCleaner,
}

/// What to do with coulter and row cleaner.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_answer())))]
pub(super) struct ResidueHandling {
    /// The coulter, and the risk of hairpins with it as advised.
    pub coulter: CoulterOut,
    /// The row cleaner, and the risk that stems wrap.
    pub row_cleaner: CleanerOut,
    /// Where the rows should run; absent where that does not matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub old_rows: Option<OldRowsOut>,
    /// Readings of the report that cannot all be true, and which of them was used.
    #[schema(max_items = 100)]
    pub contradictions: Vec<Contradiction>,
    /// What nobody looked at.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation: the points of both risks.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Coulter, row cleaner, hairpins and wrapping.
///
/// Both risks are sums of points, each with its reason; the points are coefficients
/// (`hairpin_...` and `wrap_...`), this project's own choice. The coulter comes off where it would
/// press straw into the slot; the row cleaner runs no harder than wrapping lets it.
///
/// Worked example (USDA-NRCS agronomist in Indiana, 2014, Remove coulters to plant into cover
/// crops; rules read, case ours): a half-dead, damp mat is tough as rope, and leading coulters come
/// off when it hairpins. A dead, damp mat on soil of 80 psi at 7 in the morning: take the coulter
/// off, start after about 10 o'clock.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_residue_handling", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = ResidueHandlingIn, description = "What was seen, and the iron."),
    responses(
        (status = 200, description = "What to do, and why.", body = ResidueHandling),
        ComputeErrors,
    ),
)]
#[post("/what-if/residue-handling")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<ResidueHandlingIn>,
) -> Result<Answer<ResidueHandling>, ApiError> {
    let figures = figures_in_force(&app.db, caller.scope()).await?;
    let show = Show(caller.units(query.0.units).into());
    body.into_inner().work_out(app.clock.now(), show, &figures).map(Answer::ok)
}

impl ResidueHandlingIn {
    fn work_out(
        &self,
        now: DateTime<Utc>,
        show: Show,
        k: &Coefficients,
    ) -> Result<ResidueHandling, ApiError> {
        let Self { conditions: report, coulter: given, cleaner } = self;
        let mut refused = Refused::default();
        let field = conditions(report, now, &mut refused);
        let fitted = given.as_ref().and_then(|it| refused.take(coulter_of(it)));
        let Some(field) = field else { return Err(refused.into()) };
        refused.finish()?;
        let (field, found) = field.settled(k);
        let blade = coulter(&field, fitted, k);
        let sweep = row_cleaner(&field, (*cleaner).into(), k);
        let steps = blade.choice.hairpin_step().into_iter().chain([sweep.choice.wrap_step()]);
        Ok(ResidueHandling {
            trace: trace::steps(steps.collect()),
            coulter: CoulterOut::of(&blade, show),
            row_cleaner: CleanerOut::of(&sweep),
            old_rows: old_rows(&field, k).map(|advice| OldRowsOut::of(&advice, show)),
            contradictions: contradictions(found),
            assumed: trace::assumed(blade.assumed.into_iter().chain(sweep.assumed).collect()),
        })
    }
}

/// The coulter at `/coulter`.
pub(super) fn coulter_of(given: &Coulter) -> Result<planter::Coulter, BadMember> {
    let Coulter { mount, above_opener } = given;
    let at = "/coulter/above_opener";
    let above = above_opener.as_ref().map(|it| it.parse(at, &bounds::COULTER_ABOVE_OPENER));
    Ok(planter::Coulter { mount: (*mount).into(), above_opener: above.transpose()? })
}

fn example_body() -> serde_json::Value {
    serde_json::json!({
        "conditions": {
            "observed_at": "2026-05-06T11:00:00Z",
            "crop": "soybean",
            "texture": "silt_loam",
            "moisture": "moist",
            "penetration": {"value": 80, "unit": "[psi]"},
            "cover": {
                "species": "cereal_rye",
                "height": {"value": 30, "unit": "[in_i]"},
                "ground_cover": {"value": 95, "unit": "%"},
                "state": "dead_damp"
            },
            "previous_crop": "corn",
            "residue_cover": {"value": 60, "unit": "%"},
            "residue_feel": "pliable",
            "start_hour": 7
        },
        "coulter": {"mount": "unit", "above_opener": {"value": 0.3, "unit": "[in_i]"}},
        "cleaner": "floating"
    })
}

fn example_answer() -> serde_json::Value {
    let given = serde_json::from_value::<ResidueHandlingIn>(example_body()).ok();
    let told = given.and_then(|given| {
        let now = given.conditions.observed_at;
        given.work_out(now, Show(System::Us), &Coefficients::STANDARD).ok()
    });
    serde_json::to_value(told).unwrap_or_default()
}
