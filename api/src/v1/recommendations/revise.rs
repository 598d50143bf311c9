//! `POST /v1/recommendations/{id}/revise`

use actix_web::post;
use actix_web::web::Data;

use super::answer::Recommendation;
use super::compute::Wanted;
use super::create::{draft, made};
use super::dto::RevisionIn;
use super::goals::GoalsIn;
use super::store::{self, Place};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;

/// Revise a recommendation.
///
/// Makes the next revision as a draft, worked out anew with the planter as it is now. What was
/// issued is never changed: it counts until the new revision is issued. A series has at most one
/// draft; 409 when it has one already.
#[utoipa::path(
    tag = "recommendations", operation_id = "revise_recommendation",
    security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery),
    request_body(content = RevisionIn, description = "What changes."),
    responses(
        (status = 201, description = "The next revision, a draft.", body = Recommendation, headers(
            ("Location" = String, description = "Path of the new revision."),
            ("ETag" = String, description = "Version of the new revision."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/recommendations/{id}/revise")]
pub(super) async fn revise(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<RevisionIn>,
) -> Result<Answer<Recommendation>, ApiError> {
    let RevisionIn { goals, conditions_id, calibration_id } = body.into_inner();
    let before = store::find(&app.db, caller.scope(), id.0).await?;
    let place = Place::after(&before)?;
    let goals = match goals {
        Some(goals) => goals,
        None => GoalsIn::stored(&before)?,
    };
    let wanted = Wanted {
        field_id: before.field_id,
        planter_id: before.planter_id,
        conditions_id: Some(conditions_id.unwrap_or(before.conditions_id)),
        calibration_id: calibration_id.or(before.calibration_id),
    };
    let by = Author::of(&app, &caller);
    let row = draft(&app, caller.scope(), by, wanted, place, goals).await?;
    made(&row, caller.units(query.0.units))
}
