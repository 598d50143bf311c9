//! `PATCH /v1/growers/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Grower, GrowerPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};

/// Change a grower.
///
/// What is absent stays; `null` empties. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "growers", operation_id = "update_grower", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the grower."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
    ),
    request_body(content = GrowerPatch, description = "What changes."),
    responses(
        (status = 200, description = "The grower as it is now.", body = Grower, headers(
            ("ETag" = String, description = "New version of the grower."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/growers/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    if_match: IfMatch,
    body: Body<GrowerPatch>,
) -> Result<Answer<Grower>, ApiError> {
    let change = body.into_inner().parse()?;
    let before = store::find(&app.db, caller.scope(), id.0).await?;
    let expected = if_match.needed()?;
    let row = store::update(&app.db, before, &expected, app.clock.now(), change).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Grower::from(row)).tagged(&etag))
}
