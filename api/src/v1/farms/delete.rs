//! `DELETE /v1/farms/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a farm.
///
/// Refused while it has fields. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "farms", operation_id = "delete_farm", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the farm."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The farm is deleted."), DeleteErrors),
)]
#[delete("/farms/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.scope(), id.0).await?;
            let touched = Touched::new("farm", row.id).of_grower(row.grower_id);
            store::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
