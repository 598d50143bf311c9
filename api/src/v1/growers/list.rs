//! `GET /v1/growers`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Grower, GrowerFilter, GrowerPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::prefix::Prefix;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List growers.
///
/// Oldest first, in pages. A grower's account sees only its own.
#[utoipa::path(
    tag = "growers", operation_id = "list_growers", security(("bearer" = ["read"])),
    params(GrowerFilter),
    responses(
        (status = 200, description = "A page of growers.", body = GrowerPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/growers")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<GrowerFilter>,
    request: HttpRequest,
) -> Result<Answer<GrowerPage>, ApiError> {
    let GrowerFilter { name, advisor_id, limit, cursor, updated_since, count } = query.0;
    let asked = Asked { limit, cursor, updated_since, count };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let filter = (advisor_id, Prefix::parse("?name", name.as_deref())?);
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let items = found.rows.into_iter().map(Grower::from).collect();
    let next = found.next_cursor;
    Ok(Answer::page(GrowerPage { items, next_cursor: next.clone(), total: found.total }, next))
}
