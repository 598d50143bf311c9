//! `GET /v1/records-links`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{RecordsLink, RecordsLinkFilter, RecordsLinkPage};
use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List links to records systems.
///
/// Oldest first, in pages, without secrets. The lead sees all of the practice, a records system those it made.
#[utoipa::path(
    tag = "records-links", operation_id = "list_records_links",
    security(("bearer" = ["connect"])), params(RecordsLinkFilter),
    responses(
        (status = 200, description = "A page of links.", body = RecordsLinkPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/records-links")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    query: Query<RecordsLinkFilter>,
    request: HttpRequest,
) -> Result<Answer<RecordsLinkPage>, ApiError> {
    let RecordsLinkFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let (rows, next) = store::page(&app.db, Whose::of(&caller), &page).await?;
    let items = rows.into_iter().map(RecordsLink::show).collect::<Result<_, _>>()?;
    Ok(Answer::page(RecordsLinkPage { items, next_cursor: next.clone() }, next))
}
