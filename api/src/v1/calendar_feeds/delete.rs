//! `DELETE /v1/calendar-feeds/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Revoke a calendar feed of yours.
///
/// Its address is not found any more from then on.
#[utoipa::path(
    tag = "attention", operation_id = "revoke_calendar_feed", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the feed."), IdempotencyKey),
    responses((status = 204, description = "The feed is revoked."), GetErrors),
)]
#[delete("/calendar-feeds/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    write: Write,
    id: Id,
) -> Result<Written<()>, ApiError> {
    let owner = (caller.practice_id(), caller.account_id());
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, owner, id.0).await?;
            if !store::revoke(tx, &app, &row).await? {
                return Ok(Done::unchanged(Answer::done()));
            }
            let touched = Touched::new("calendar_feed", row.id);
            let touched = match row.grower_id {
                Some(grower) => touched.of_grower(grower),
                None => touched,
            };
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
