//! `DELETE /v1/records-links/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a link to a records system.
///
/// Its secret and its runs are gone, and a run under way takes nothing any more. What was taken stays, and so do the ids of the
/// system. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "records-links", operation_id = "delete_records_link",
    security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the link."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The link is deleted."), DeleteErrors),
)]
#[delete("/records-links/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, Whose::of(&caller), id.0).await?;
            store::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(Touched::new("records_link", id.0), Answer::done()))
        })
        .await
}
