//! `POST /v1/recommendations/{id}/revise`

use actix_web::post;
use actix_web::web::Data;
use uuid::Uuid;

use super::answer::Recommendation;
use super::compute::Wanted;
use super::create::{draft, made};
use super::dto::RevisionIn;
use super::goals::GoalsIn;
use super::store::{self, NewRevision, Place};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise, Scope};
use crate::http::responses::CreateUnderErrors;
use crate::http::{ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;
use crate::writes::{IdempotencyKey, Write, Written};

/// Revise a recommendation.
///
/// Makes the next revision as a draft, worked out anew with the planter as it is now. What was
/// issued is never changed: it counts until the new revision is issued. A series has at most one
/// draft; 409 when it has one already.
#[utoipa::path(
    tag = "recommendations", operation_id = "revise_recommendation",
    security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery, IdempotencyKey),
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
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<RevisionIn>,
) -> Result<Written<Recommendation>, ApiError> {
    let given = body.into_inner();
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    let units = caller.units(query.0.units);
    write
        .run_prepared(
            &app,
            &caller,
            async || next(&app, scope, by, id.0, given).await,
            async |tx, new| made(tx, scope, by, &new, units).await,
        )
        .await
}

/// Works out the revision after one that is there.
async fn next(
    app: &AppState,
    scope: Scope,
    by: Author,
    id: Uuid,
    given: RevisionIn,
) -> Result<Box<NewRevision>, ApiError> {
    let RevisionIn { goals, conditions_id, calibration_id } = given;
    let before = store::find(&app.db, scope, id).await?;
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
    draft(app, scope, by, wanted, place, goals).await
}
