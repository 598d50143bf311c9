//! `GET /v1/yields`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Yield, YieldFilter, YieldPage};
use super::store::{self, Filter};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List yields.
///
/// In the order in which they were entered, in pages. A grower's account sees those of its own
/// fields.
#[utoipa::path(
    tag = "yields", operation_id = "list_yields", security(("bearer" = ["read"])),
    params(YieldFilter),
    responses(
        (status = 200, description = "A page of yields.", body = YieldPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/yields")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<YieldFilter>,
    request: HttpRequest,
) -> Result<Answer<YieldPage>, ApiError> {
    let asked = query.0;
    let filter = Filter {
        grower_id: asked.grower_id,
        field_id: asked.field_id,
        crop: asked.crop.map(|crop| domain::conditions::Crop::from(crop).into()),
        from: asked.harvested_from,
        to: asked.harvested_to,
    };
    let units = caller.units(asked.units);
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked.into())?;
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let shown = found.rows.into_iter().map(|row| Yield::show(row, units));
    let items = shown.collect::<Result<_, _>>()?;
    let next = found.next_cursor;
    Ok(Answer::page(YieldPage { items, next_cursor: next.clone(), total: found.total }, next))
}
