//! `PATCH /v1/planters/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Planter, PlanterPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};

/// Change a planter.
///
/// What is absent stays; a makeup is exchanged as a whole. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "planters", operation_id = "update_planter", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the planter."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
    ),
    request_body(content = PlanterPatch, description = "What changes."),
    responses(
        (status = 200, description = "The planter as it is now.", body = Planter, headers(
            ("ETag" = String, description = "New version of the planter."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/planters/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    if_match: IfMatch,
    body: Body<PlanterPatch>,
) -> Result<Answer<Planter>, ApiError> {
    let change = body.into_inner().parse()?;
    let before = store::find(&app.db, caller.scope(), id.0).await?;
    let expected = if_match.needed()?;
    let row = store::update(&app.db, before, &expected, app.clock.now(), change).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Planter::show(row)?).tagged(&etag))
}
