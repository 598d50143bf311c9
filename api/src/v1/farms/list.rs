//! `GET /v1/farms`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Farm, FarmFilter, FarmPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::prefix::Prefix;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List farms.
///
/// Oldest first, in pages. A grower's account sees only its own.
#[utoipa::path(
    tag = "farms", operation_id = "list_farms", security(("bearer" = ["read"])),
    params(FarmFilter),
    responses(
        (status = 200, description = "A page of farms.", body = FarmPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/farms")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<FarmFilter>,
    request: HttpRequest,
) -> Result<Answer<FarmPage>, ApiError> {
    let FarmFilter { name, grower_id, limit, cursor, updated_since, count } = query.0;
    let asked = Asked { limit, cursor, updated_since, count };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let filter = (grower_id, Prefix::parse("?name", name.as_deref())?);
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let items = found.rows.into_iter().map(Farm::from).collect();
    let next = found.next_cursor;
    Ok(Answer::page(FarmPage { items, next_cursor: next.clone(), total: found.total }, next))
}
