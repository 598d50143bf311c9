//! `PATCH /v1/farms/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Farm, FarmPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, text};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a farm.
///
/// What is absent stays. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "farms", operation_id = "update_farm", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the farm."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
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
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<FarmPatch>,
) -> Result<Written<Farm>, ApiError> {
    let FarmPatch { name } = body.into_inner();
    let name = name.map(|given| text::name("/name", &given)).transpose()?;
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.scope(), id.0).await?;
            let expected = if_match.needed()?;
            let row = store::update(tx, before, &expected, app.clock.now(), name).await?;
            let touched =
                Touched::new("farm", row.id).in_version(row.version).of_grower(row.grower_id);
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Farm::from(row)).tagged(&etag)))
        })
        .await
}
