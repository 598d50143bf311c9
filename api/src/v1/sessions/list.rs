//! `GET /v1/sessions`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{OpenSession, OpenSessionPage, SessionFilter};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List one's own sessions.
///
/// The open ones, oldest first, in pages: where the account is signed in.
#[utoipa::path(
    tag = "sessions", operation_id = "list_own_sessions", security(("bearer" = ["read"])),
    params(SessionFilter),
    responses(
        (status = 200, description = "A page of sessions.", body = OpenSessionPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/sessions")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<SessionFilter>,
    request: HttpRequest,
) -> Result<Answer<OpenSessionPage>, ApiError> {
    let SessionFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, &caller, app.clock.now(), &page).await?;
    let present = caller.session_id();
    let items = rows.iter().map(|row| OpenSession::seen_from(row, present)).collect();
    Ok(Answer::page(OpenSessionPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
