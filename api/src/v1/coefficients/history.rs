//! `GET /v1/coefficients/{name}/history`

use actix_web::web::{Data, Path};
use actix_web::{HttpRequest, get};
use domain::provenance::Coefficients;

use super::change::{CoefficientChange, CoefficientChangePage, HistoryFilter};
use super::named::named;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Query};

/// List the changes of a coefficient.
///
/// Who of the practice changed it, when, and to what, oldest first, in pages. The figure before a
/// change is that of the change before it, and the one that ships before the first.
#[utoipa::path(
    tag = "coefficients", operation_id = "list_coefficient_changes",
    security(("bearer" = ["read"])),
    params(("name" = String, Path, description = "Name of the coefficient."), HistoryFilter),
    responses(
        (status = 200, description = "A page of changes.", body = CoefficientChangePage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/coefficients/{name}/history")]
pub(super) async fn history(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    name: Path<String>,
    query: Query<HistoryFilter>,
    request: HttpRequest,
) -> Result<Answer<CoefficientChangePage>, ApiError> {
    let HistoryFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let k = named(&Coefficients::STANDARD, &name)?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), k.name, &page).await?;
    let items = rows.into_iter().map(CoefficientChange::from).collect();
    let body = CoefficientChangePage { items, next_cursor: next_cursor.clone() };
    Ok(Answer::page(body, next_cursor))
}
