//! `POST /v1/trials/{id}/close`

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

/// Close a trial.
///
/// Nothing more is taken; what was found stays and can be analysed. Send the `ETag` you read as
/// `If-Match`.
#[utoipa::path(
    tag = "trials", operation_id = "close_trial", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the trial."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is closed."),
        IdempotencyKey,
    ),
    responses(
        (status = 200, description = "The trial, closed.", body = Trial, headers(
            ("ETag" = String, description = "New version of the trial."),
        )),
        StepErrors,
    ),
)]
#[post("/trials/{id}/close")]
pub(super) async fn close(
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
            let row = store::close(tx, before, &expected, by).await?;
            let touched = Touched::new("trial", row.id).in_version(row.version);
            let touched = touched.in_field(tx, (row.practice_id, row.field_id)).await?;
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Trial::of(row)?).tagged(&etag)))
        })
        .await
}
