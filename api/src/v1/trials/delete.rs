//! `DELETE /v1/trials/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::DeleteDraftErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a draft of a trial.
///
/// What was started stays. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "trials", operation_id = "delete_trial", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the trial."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The draft is deleted."), DeleteDraftErrors),
)]
#[delete("/trials/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::hold(tx, caller.scope(), id.0).await?;
            let touched = Touched::new("trial", row.id);
            let touched = touched.in_field(tx, (row.practice_id, row.field_id)).await?;
            store::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
