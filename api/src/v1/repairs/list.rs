//! `GET /v1/planters/{id}/repairs`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Repair, RepairFilter, RepairPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::planters;

/// List the repairs of a planter.
///
/// In the order in which they were entered, in pages.
#[utoipa::path(
    tag = "inspections", operation_id = "list_repairs", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), RepairFilter),
    responses(
        (status = 200, description = "A page of repairs.", body = RepairPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/planters/{id}/repairs")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<RepairFilter>,
    request: HttpRequest,
) -> Result<Answer<RepairPage>, ApiError> {
    let RepairFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), planter.id, &page).await?;
    let items = rows.into_iter().map(Repair::show).collect::<Result<_, _>>()?;
    Ok(Answer::page(RepairPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
