//! `GET /v1/calendar-feeds`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{CalendarFeed, CalendarFeedFilter, CalendarFeedPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List your calendar feeds.
///
/// Those that work, oldest first, without their addresses.
#[utoipa::path(
    tag = "attention", operation_id = "list_calendar_feeds", security(("bearer" = ["read"])),
    params(CalendarFeedFilter),
    responses(
        (status = 200, description = "A page of your feeds.", body = CalendarFeedPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/calendar-feeds")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<CalendarFeedFilter>,
    request: HttpRequest,
) -> Result<Answer<CalendarFeedPage>, ApiError> {
    let CalendarFeedFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let owner = (caller.practice_id(), caller.account_id());
    let (rows, next_cursor) = store::page(&app.db, owner, &page).await?;
    let items = rows.into_iter().map(CalendarFeed::from).collect();
    Ok(Answer::page(CalendarFeedPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
