//! `DELETE /v1/access-links/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise, sessions};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Revoke an access link.
///
/// It lets nobody in any more, and the sessions that it opened end at once. It stays in the list.
#[utoipa::path(
    tag = "access-links", operation_id = "revoke_access_link", security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the link."), IdempotencyKey),
    responses((status = 204, description = "The link is revoked."), GetErrors),
)]
#[delete("/access-links/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
) -> Result<Written<()>, ApiError> {
    let now = app.clock.now();
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.scope(), id.0).await?;
            if !store::revoke(tx, &row, now).await? {
                return Ok(Done::unchanged(Answer::done()));
            }
            sessions::end_all_of_link(tx, (row.practice_id, row.id), now).await?;
            let touched = Touched::new("access_link", row.id).of_grower(row.grower_id);
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
