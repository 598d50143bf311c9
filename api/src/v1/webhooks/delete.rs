//! `DELETE /v1/webhooks/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a webhook.
///
/// Its deliveries are gone with it, those that wait too. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "webhooks", operation_id = "delete_webhook", security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the webhook."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The webhook is deleted."), DeleteErrors),
)]
#[delete("/webhooks/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, &caller, id.0).await?;
            store::delete(tx, &before, &if_match.or_any(), app.clock.now()).await?;
            Ok(Done::new(Touched::new("webhook", id.0), Answer::done()))
        })
        .await
}
