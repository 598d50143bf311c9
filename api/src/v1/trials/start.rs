//! `POST /v1/trials/{id}/start`

use actix_web::post;
use actix_web::web::Data;

use super::dto::Trial;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, ETag, Id, IfMatch};
use crate::v1::author::Author;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Start a trial.
///
/// Freezes the layout: from now on it can't be changed, and takes what is found on its plots. A
/// grower sees it from now on. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "trials", operation_id = "start_trial", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the trial."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is started."),
        IdempotencyKey,
    ),
    responses(
        (status = 200, description = "The trial, running.", body = Trial, headers(
            ("ETag" = String, description = "New version of the trial."),
        )),
        StepErrors,
    ),
)]
#[post("/trials/{id}/start")]
pub(super) async fn start(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<Trial>, ApiError> {
    let by = Author::of(&app, &caller);
    write
        .run(&app, &caller, async |tx| {
            let before = store::hold(tx, caller.scope(), id.0).await?;
            let expected = if_match.needed()?;
            let row = store::start(tx, before, &expected, by).await?;
            let touched = Touched::new("trial", row.id).in_version(row.version);
            let touched = touched.in_field(tx, (row.practice_id, row.field_id)).await?;
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Trial::of(row)?).tagged(&etag)))
        })
        .await
}
