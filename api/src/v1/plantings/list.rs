//! `GET /v1/plantings`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Planting, PlantingFilter, PlantingPage};
use super::store::{self, Filter};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List plantings.
///
/// In the order in which they were entered, in pages. A grower's account sees those of its own
/// fields.
#[utoipa::path(
    tag = "plantings", operation_id = "list_plantings", security(("bearer" = ["read"])),
    params(PlantingFilter),
    responses(
        (status = 200, description = "A page of plantings.", body = PlantingPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/plantings")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<PlantingFilter>,
    request: HttpRequest,
) -> Result<Answer<PlantingPage>, ApiError> {
    let asked = query.0;
    let filter = Filter {
        grower_id: asked.grower_id,
        field_id: asked.field_id,
        planter_id: asked.planter_id,
        crop: asked.crop.map(|crop| domain::conditions::Crop::from(crop).into()),
        from: asked.planted_from,
        to: asked.planted_to,
    };
    let units = caller.units(asked.units);
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked.into())?;
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let shown = found.rows.into_iter().map(|row| Planting::show(row, units));
    let items = shown.collect::<Result<_, _>>()?;
    let next = found.next_cursor;
    Ok(Answer::page(PlantingPage { items, next_cursor: next.clone(), total: found.total }, next))
}
