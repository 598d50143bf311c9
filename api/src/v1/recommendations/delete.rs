//! `DELETE /v1/recommendations/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::create::touched;
use super::{steps, store};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::DeleteDraftErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Delete a draft.
///
/// What was issued stays for good. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "recommendations", operation_id = "delete_recommendation",
    security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the recommendation."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The draft is deleted."), DeleteDraftErrors),
)]
#[delete("/recommendations/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.scope(), id.0).await?;
            steps::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(touched(tx, &row).await?, Answer::done()))
        })
        .await
}
