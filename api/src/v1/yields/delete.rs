//! `DELETE /v1/yields/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a yield.
///
/// For what was entered by mistake. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "yields", operation_id = "delete_yield", security(("bearer" = ["report"])),
    params(
        ("id" = Uuid, Path, description = "Id of the yield."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The yield is deleted."), DeleteErrors),
)]
#[delete("/yields/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.scope(), id.0).await?;
            let touched =
                Touched::new("yield", row.id).in_field(tx, (row.practice_id, row.field_id)).await?;
            store::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
