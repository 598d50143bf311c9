//! `GET /v1/farms`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{Farm, FarmFilter, FarmPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::page::PageRequest;
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
) -> Result<Answer<FarmPage>, ApiError> {
    let FarmFilter { grower_id, limit, cursor } = query.0;
    let page = PageRequest::parse(limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), grower_id, page).await?;
    let items = rows.into_iter().map(Farm::from).collect();
    Ok(Answer::page(FarmPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
