//! `GET /v1/planters/{id}/inspections`

use std::collections::HashMap;

use actix_web::web::Data;
use actix_web::{HttpRequest, get};
use sea_orm::{ColumnTrait, QueryFilter};
use uuid::Uuid;

use super::dto::InspectionFilter;
use super::shed::Shed;
use super::show::{Inspection, InspectionPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::entities::inspections::{Column, Model};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::planters;

/// List the inspections of a planter.
///
/// In the order in which they were entered, in pages; those that were corrected too, with the one that
/// counts in their place.
#[utoipa::path(
    tag = "inspections", operation_id = "list_inspections", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), InspectionFilter),
    responses(
        (status = 200, description = "A page of inspections.", body = InspectionPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/planters/{id}/inspections")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<InspectionFilter>,
    request: HttpRequest,
) -> Result<Answer<InspectionPage>, ApiError> {
    let InspectionFilter { units, limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let (rows, next_cursor) = store::page(&app.db, caller.scope(), planter.id, &page).await?;
    let shed = Shed::load(&app.db, &planter).await?;
    let shown: Vec<Uuid> = rows.iter().map(|row| row.id).collect();
    let newer = caller.scope().inspections().filter(Column::ReplacesId.is_in(shown));
    let newer = newer.all(&app.db).await?;
    let newer: HashMap<Uuid, Uuid> =
        newer.into_iter().filter_map(|row| Some((row.replaces_id?, row.id))).collect();
    let system = caller.units(units).into();
    let show = |row: &Model| {
        let newer = newer.get(&row.id).copied();
        Inspection::show(row, &shed, newer, system)
    };
    let items = rows.iter().map(show).collect::<Result<_, _>>()?;
    Ok(Answer::page(InspectionPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
