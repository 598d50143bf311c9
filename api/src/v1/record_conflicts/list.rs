//! `GET /v1/record-conflicts`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{RecordConflictFilter, RecordConflictPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List conflicts with records systems.
///
/// Members that they and we both changed since they were taken last. Ours holds until a person decides.
/// Oldest first, in pages.
#[utoipa::path(
    tag = "external-ids", operation_id = "list_record_conflicts", security(("bearer" = ["keep"])),
    params(RecordConflictFilter),
    responses(
        (status = 200, description = "A page of conflicts.", body = RecordConflictPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/record-conflicts")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    query: Query<RecordConflictFilter>,
    request: HttpRequest,
) -> Result<Answer<RecordConflictPage>, ApiError> {
    let RecordConflictFilter { grower_id, limit, cursor, count } = query.0;
    let asked = Asked { limit, cursor, count, updated_since: None };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let scope = caller.scope();
    let found = store::page(&app.db, scope, grower_id, &page).await?;
    let items = store::show(&app.db, scope, found.rows).await?;
    let next = found.next_cursor;
    let total = found.total;
    Ok(Answer::page(RecordConflictPage { items, next_cursor: next.clone(), total }, next))
}
