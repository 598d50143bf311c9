//! `GET /v1/external/{system}`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{ExternalFilter, ExternalId, ExternalIdPage};
use super::path::{InSystem, SystemPath};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List the ids that a records system gives.
///
/// Those that came first first, in pages: their id, ours, and when each came. `gone=true` lists what is
/// missing from their listings. A grower's account sees only its own.
#[utoipa::path(
    tag = "external-ids", operation_id = "list_external_records", security(("bearer" = ["read"])),
    params(SystemPath, ExternalFilter),
    responses(
        (status = 200, description = "A page of ids.", body = ExternalIdPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/external/{system}")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    of: InSystem,
    query: Query<ExternalFilter>,
    request: HttpRequest,
) -> Result<Answer<ExternalIdPage>, ApiError> {
    let ExternalFilter { kind, gone, limit, cursor, count } = query.0;
    let asked = Asked { limit, cursor, count, updated_since: None };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let rows = store::of_system(caller.scope(), &of.system, (kind, gone));
    let found = store::page(&app.db, rows, &page).await?;
    let items = found.rows.into_iter().map(ExternalId::from).collect();
    let next = found.next_cursor;
    Ok(Answer::page(ExternalIdPage { items, next_cursor: next.clone(), total: found.total }, next))
}
