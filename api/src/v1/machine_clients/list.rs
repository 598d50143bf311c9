//! `GET /v1/machine-clients`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{MachineClient, MachineClientFilter, MachineClientPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List machine clients.
///
/// Oldest first, in pages, without any secret.
#[utoipa::path(
    tag = "machine-clients", operation_id = "list_machine_clients",
    security(("bearer" = ["manage"])), params(MachineClientFilter),
    responses(
        (status = 200, description = "A page of machine clients.", body = MachineClientPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/machine-clients")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    query: Query<MachineClientFilter>,
    request: HttpRequest,
) -> Result<Answer<MachineClientPage>, ApiError> {
    let MachineClientFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let found = store::page(&app.db, caller.practice_id(), &page).await?;
    let items = found.rows.into_iter().map(MachineClient::from).collect();
    let next = found.next_cursor;
    Ok(Answer::page(MachineClientPage { items, next_cursor: next.clone() }, next))
}
