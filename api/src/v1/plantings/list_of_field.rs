//! `GET /v1/fields/{id}/plantings`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Planting, PlantingPage, PlantingsOfField};
use super::store::{self, Filter};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::fields;

/// List the plantings of a field.
///
/// In the order in which they were entered, in pages.
#[utoipa::path(
    tag = "plantings", operation_id = "list_plantings_of_field", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), PlantingsOfField),
    responses(
        (status = 200, description = "A page of plantings.", body = PlantingPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/fields/{id}/plantings")]
pub(super) async fn list_of_field(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<PlantingsOfField>,
    request: HttpRequest,
) -> Result<Answer<PlantingPage>, ApiError> {
    let PlantingsOfField { units, limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let field = fields::store::find(&app.db, caller.scope(), id.0).await?;
    let filter = Filter { field_id: Some(field.id), ..Filter::default() };
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let units = caller.units(units);
    let shown = found.rows.into_iter().map(|row| Planting::show(row, units));
    let items = shown.collect::<Result<_, _>>()?;
    let next = found.next_cursor;
    Ok(Answer::page(PlantingPage { items, next_cursor: next.clone(), total: None }, next))
}
