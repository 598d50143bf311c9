//! `PATCH /v1/farms/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Farm, FarmPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, text};

/// Change a farm.
///
/// What is absent stays. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "farms", operation_id = "update_farm", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the farm."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
    ),
    request_body(content = FarmPatch, description = "What changes."),
    responses(
        (status = 200, description = "The farm as it is now.", body = Farm, headers(
            ("ETag" = String, description = "New version of the farm."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/farms/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    if_match: IfMatch,
    body: Body<FarmPatch>,
) -> Result<Answer<Farm>, ApiError> {
    let FarmPatch { name } = body.into_inner();
    let name = name.map(|given| text::name("/name", &given)).transpose()?;
    let before = store::find(&app.db, caller.scope(), id.0).await?;
    let expected = if_match.needed()?;
    let row = store::update(&app.db, before, &expected, app.clock.now(), name).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Farm::from(row)).tagged(&etag))
}
