//! `GET /v1/planters`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Planter, PlanterFilter, PlanterPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::prefix::Prefix;
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
    request: HttpRequest,
) -> Result<Answer<PlanterPage>, ApiError> {
    let PlanterFilter { name, grower_id, limit, cursor, updated_since, count } = query.0;
    let asked = Asked { limit, cursor, updated_since, count };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let filter = (grower_id, Prefix::parse("?name", name.as_deref())?);
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let items = found.rows.into_iter().map(Planter::show).collect::<Result<_, _>>()?;
    let next = found.next_cursor;
    Ok(Answer::page(PlanterPage { items, next_cursor: next.clone(), total: found.total }, next))
}
