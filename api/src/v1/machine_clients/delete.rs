//! `DELETE /v1/machine-clients/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a machine client.
///
/// Its tokens stop at once and its secrets are gone. What it wrote stays. `If-Match` is honoured
/// when sent.
#[utoipa::path(
    tag = "machine-clients", operation_id = "delete_machine_client",
    security(("bearer" = ["manage"])),
    params(
        ("id" = Uuid, Path, description = "Id of the client."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The client is deleted."), DeleteErrors),
)]
#[delete("/machine-clients/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let found = store::find(tx, caller.practice_id(), id.0).await?;
            store::delete(tx, found, &if_match.or_any(), app.clock.now()).await?;
            Ok(Done::new(Touched::new("machine_client", id.0), Answer::done()))
        })
        .await
}
