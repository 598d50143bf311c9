//! `GET /v1/access-links`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{AccessLink, AccessLinkFilter, AccessLinkPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List access links.
///
/// Oldest first, in pages, without their tokens: those of the growers that the caller sees.
#[utoipa::path(
    tag = "access-links", operation_id = "list_access_links",
    security(("bearer" = ["advise"])), params(AccessLinkFilter),
    responses(
        (status = 200, description = "A page of access links.", body = AccessLinkPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/access-links")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    query: Query<AccessLinkFilter>,
    request: HttpRequest,
) -> Result<Answer<AccessLinkPage>, ApiError> {
    let AccessLinkFilter { grower_id, limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), grower_id, &page).await?;
    let now = app.clock.now();
    let items = rows.into_iter().map(|row| AccessLink::at(now, row)).collect();
    Ok(Answer::page(AccessLinkPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
