//! `GET /v1/growers`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{Grower, GrowerFilter, GrowerPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::page::PageRequest;
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
) -> Result<Answer<GrowerPage>, ApiError> {
    let GrowerFilter { advisor_id, limit, cursor } = query.0;
    let page = PageRequest::parse(limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), advisor_id, page).await?;
    let items = rows.into_iter().map(Grower::from).collect();
    Ok(Answer::page(GrowerPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
