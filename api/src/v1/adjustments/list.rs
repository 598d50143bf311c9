//! `GET /v1/adjustments`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Adjustment, AdjustmentFilter, AdjustmentPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List adjustments.
///
/// Oldest first, in pages; `status=proposed` lists what waits for a decision. A grower's account
/// sees those of its own fields.
#[utoipa::path(
    tag = "adjustments", operation_id = "list_adjustments", security(("bearer" = ["read"])),
    params(AdjustmentFilter),
    responses(
        (status = 200, description = "A page of adjustments.", body = AdjustmentPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/adjustments")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<AdjustmentFilter>,
    request: HttpRequest,
) -> Result<Answer<AdjustmentPage>, ApiError> {
    let asked = query.0;
    let (filter, units) = (asked.filter(), caller.units(asked.units));
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked.into())?;
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let shown = found.rows.into_iter().map(|row| Adjustment::of(row, units.into()));
    let (items, next) = (shown.collect::<Result<_, _>>()?, found.next_cursor);
    let total = found.total;
    Ok(Answer::page(AdjustmentPage { items, next_cursor: next.clone(), total }, next))
}
