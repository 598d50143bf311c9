//! `GET /v1/records-links/{id}/runs`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{RecordsRun, RecordsRunFilter, RecordsRunPage};
use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::pull::runs::store as runs;
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};

/// List the runs of a link to a records system.
///
/// Oldest first, in pages; those of the last 30 days.
#[utoipa::path(
    tag = "records-links", operation_id = "list_records_runs",
    security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the link."), RecordsRunFilter),
    responses(
        (status = 200, description = "A page of runs.", body = RecordsRunPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/records-links/{id}/runs")]
pub(super) async fn list_runs(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
    query: Query<RecordsRunFilter>,
    request: HttpRequest,
) -> Result<Answer<RecordsRunPage>, ApiError> {
    let RecordsRunFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let link = store::find(&app.db, Whose::of(&caller), id.0).await?;
    let (rows, next) = runs::page(&app.db, &link, &page).await?;
    let items = rows.iter().map(RecordsRun::show).collect::<Result<_, _>>()?;
    Ok(Answer::page(RecordsRunPage { items, next_cursor: next.clone() }, next))
}
