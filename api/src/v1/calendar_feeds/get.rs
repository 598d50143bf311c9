//! `GET /v1/calendar-feeds/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::CalendarFeed;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};

/// Get a calendar feed of yours.
///
/// Without its address, which is known to nobody any more but whoever has it.
#[utoipa::path(
    tag = "attention", operation_id = "get_calendar_feed", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the feed.")),
    responses((status = 200, description = "The feed.", body = CalendarFeed), GetErrors),
)]
#[get("/calendar-feeds/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<CalendarFeed>, ApiError> {
    let owner = (caller.practice_id(), caller.account_id());
    Ok(Answer::ok(CalendarFeed::from(store::find(&app.db, owner, id.0).await?)))
}
