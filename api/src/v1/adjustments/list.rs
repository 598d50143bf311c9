//! `GET /v1/adjustments`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{Adjustment, AdjustmentFilter, AdjustmentPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
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
) -> Result<Answer<AdjustmentPage>, ApiError> {
    let asked = query.0;
    let page = PageRequest::parse(asked.limit, asked.cursor.as_deref())?;
    let units = caller.units(asked.units);
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), asked.filter(), page).await?;
    let items =
        rows.into_iter().map(|row| Adjustment::of(row, units.into())).collect::<Result<_, _>>()?;
    Ok(Answer::page(AdjustmentPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
