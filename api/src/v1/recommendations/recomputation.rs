//! `GET /v1/recommendations/{id}/recomputation`

use actix_web::get;
use actix_web::web::Data;
use domain::provenance::Coefficients;
use domain::settings::ENGINE;
use sea_orm::ConnectionTrait;
use serde::Serialize;
use serde_json::Value;
use utoipa::ToSchema;
use uuid::Uuid;

use super::differences::{Difference, differences};
use super::{compute, store};
use crate::app::AppState;
use crate::auth::{Caller, CanRead, Scope};
use crate::entities::recommendations;
use crate::http::responses::RecomputeErrors;
use crate::http::{Answer, ApiError, Id, ProblemCode};
use crate::v1::coefficient_sets::store as sets;

/// Most differences that are listed.
const MOST_LISTED: usize = 100;

/// Which figures a recommendation was worked out anew with: the set `stored` with it, or those that
/// ship today (`standard`), because it was made before sets were kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FiguresUsed {
    /// The set that was stored with it.
    Stored,
    /// Those that ship today.
    Standard,
}

/// A recommendation, worked out anew from what was stored with it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "recommendation_id": "01964f1e-6a00-7000-8000-000000000031",
    "engine_stored": "2026.4", "engine_now": "2026.4", "figures": "stored",
    "coefficient_set_id": "8f3c6e0a-51d2-8b77-9a10-3d5c2e8f4b61", "set_intact": true,
    "same": true, "difference_count": 0, "differences": []
})))]
pub struct Recomputation {
    /// The recommendation.
    pub recommendation_id: Uuid,
    /// Version of the engine that worked it out when it was made.
    #[schema(example = "2026.4")]
    pub engine_stored: String,
    /// Version of the engine that worked it out now.
    #[schema(example = "2026.4")]
    pub engine_now: String,
    /// Which figures went in.
    pub figures: FiguresUsed,
    /// The stored set; absent for a recommendation made before sets were kept.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub coefficient_set_id: Option<Uuid>,
    /// Whether the stored set still is what its id was made from; absent without a set.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = true)]
    pub set_intact: Option<bool>,
    /// Whether the result is the stored one, bit for bit.
    #[schema(example = true)]
    pub same: bool,
    /// How many places differ.
    #[schema(format = Int32, minimum = 0, example = 0)]
    pub difference_count: usize,
    /// The places that differ, in the order of the result; the first 100 of them.
    #[schema(max_items = 100)]
    pub differences: Vec<Difference>,
}

/// Recompute a recommendation.
///
/// Runs the engine of this version on the inputs and the coefficients that were stored with the
/// recommendation, and holds the result against the stored one. With the same version of the engine
/// the two are the same, bit for bit, whatever the practice has changed since. With another version
/// the differences say what today's engine would do otherwise. Nothing is stored: what was issued
/// stays as it is.
#[utoipa::path(
    tag = "recommendations", operation_id = "recompute_recommendation",
    security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation.")),
    responses(
        (status = 200, description = "What came out.", body = Recomputation),
        RecomputeErrors,
    ),
)]
#[get("/recommendations/{id}/recomputation")]
pub(super) async fn recomputation(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<Recomputation>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let before = Before::read(&app.db, &row).await?;
    let now = compute::result(&store::inputs_of(&row)?, &before.set);
    let now = serde_json::to_value(&now).map_err(ApiError::internal)?;
    Ok(Answer::ok(answer(row, &before, &now)))
}

/// What a recommendation was worked out with.
struct Before {
    figures: FiguresUsed,
    intact: Option<bool>,
    set: Box<Coefficients>,
}

impl Before {
    async fn read(
        db: &impl ConnectionTrait,
        row: &recommendations::Model,
    ) -> Result<Self, ApiError> {
        let Some(id) = row.coefficient_set_id else {
            let set = Box::new(Coefficients::STANDARD);
            return Ok(Self { figures: FiguresUsed::Standard, intact: None, set });
        };
        let scope = Scope::of_practice(row.practice_id);
        let stored = sets::find(db, scope, id).await?;
        let intact = Some(sets::is_intact(&stored)?);
        let set = sets::coefficients_of(&stored)?.map_err(|fault| {
            let why = format!("This version can't read the stored coefficients: {fault}.");
            ApiError::new(ProblemCode::WrongState, why)
        })?;
        Ok(Self { figures: FiguresUsed::Stored, intact, set })
    }
}

fn answer(row: recommendations::Model, before: &Before, now: &Value) -> Recomputation {
    let mut found = differences(&row.result, now);
    let difference_count = found.len();
    found.truncate(MOST_LISTED);
    Recomputation {
        recommendation_id: row.id,
        engine_stored: row.engine_version,
        engine_now: ENGINE.to_owned(),
        figures: before.figures,
        coefficient_set_id: row.coefficient_set_id,
        set_intact: before.intact,
        same: difference_count == 0,
        difference_count,
        differences: found,
    }
}
