//! `DELETE /v1/growers/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a grower.
///
/// Refused while farms, planters or accounts refer to it. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "growers", operation_id = "delete_grower", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the grower."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The grower is deleted."), DeleteErrors),
)]
#[delete("/growers/{id}")]
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
            let touched = Touched::new("grower", row.id).of_grower(row.id);
            store::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
