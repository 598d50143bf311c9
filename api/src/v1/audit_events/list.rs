//! `GET /v1/audit-events`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{AuditEvent, AuditEventFilter, AuditEventPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAudit};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List what was done.
///
/// Oldest first, in pages. Every change by anyone in the practice is there, and nobody can change or
/// remove an entry. Values are not kept, so what was erased is not here either.
#[utoipa::path(
    tag = "audit", operation_id = "list_audit_events", security(("bearer" = ["audit"])),
    params(AuditEventFilter),
    responses(
        (status = 200, description = "A page of what was done.", body = AuditEventPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/audit-events")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanAudit>,
    query: Query<AuditEventFilter>,
    request: HttpRequest,
) -> Result<Answer<AuditEventPage>, ApiError> {
    let (filter, asked) = query.0.parse()?;
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), &filter, &page).await?;
    let items = rows.into_iter().map(AuditEvent::show).collect::<Result<_, _>>()?;
    Ok(Answer::page(AuditEventPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
