//! `GET /v1/planters`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{Planter, PlanterFilter, PlanterPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List planters.
///
/// Oldest first, in pages. A grower's account sees only its own.
#[utoipa::path(
    tag = "planters", operation_id = "list_planters", security(("bearer" = ["read"])),
    params(PlanterFilter),
    responses(
        (status = 200, description = "A page of planters.", body = PlanterPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/planters")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<PlanterFilter>,
) -> Result<Answer<PlanterPage>, ApiError> {
    let PlanterFilter { grower_id, limit, cursor } = query.0;
    let page = PageRequest::parse(limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), grower_id, page).await?;
    let items = rows.into_iter().map(Planter::show).collect::<Result<_, _>>()?;
    Ok(Answer::page(PlanterPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
