//! `DELETE /v1/sessions/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::sessions::{self, WayOut};
use crate::auth::{Caller, CanRead};
use crate::http::responses::EndErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// End one of one's own sessions.
///
/// Its tokens stop working at once: for a device that was lost.
#[utoipa::path(
    tag = "sessions", operation_id = "end_session", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the session."), IdempotencyKey),
    responses((status = 204, description = "The session has ended."), EndErrors),
)]
#[delete("/sessions/{id}")]
pub(super) async fn end(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    write: Write,
    id: Id,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let now = app.clock.now();
            let row = store::find(tx, &caller, now, id.0).await?;
            sessions::end(tx, (row.practice_id, row.id), WayOut::SignedOut, now).await?;
            Ok(Done::new(Touched::new("session", row.id), Answer::done()))
        })
        .await
}
