//! `PATCH /v1/growers/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Grower, GrowerPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a grower.
///
/// What is absent stays; `null` empties. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "growers", operation_id = "update_grower", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the grower."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
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
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<GrowerPatch>,
) -> Result<Written<Grower>, ApiError> {
    let change = body.into_inner().parse()?;
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.scope(), id.0).await?;
            let expected = if_match.needed()?;
            let row = store::update(tx, before, &expected, app.clock.now(), change).await?;
            let touched = Touched::new("grower", row.id).in_version(row.version).of_grower(row.id);
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Grower::from(row)).tagged(&etag)))
        })
        .await
}
