//! `GET /v1/inspection-items`

use actix_web::get;
use actix_web::web::Data;
use domain::planter::inspection::{ITEMS, Item};
use sea_orm::{ColumnTrait, QueryFilter};

use super::dto::{InspectionItem, InspectionItemFilter, InspectionItemList};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::entities::planters::Column;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};
use crate::v1::inspections::shed::planter_of;

/// List inspection items.
///
/// The checklist for the shed, front to back: what to look at and how, row by row where it matters, what
/// passes and what does not, with source, and what can hurt somebody. With `planter_id` only what that
/// planter has.
#[utoipa::path(
    tag = "inspections", operation_id = "list_inspection_items", security(("bearer" = ["read"])),
    params(InspectionItemFilter),
    responses(
        (status = 200, description = "The items, front to back.", body = InspectionItemList),
        ListErrors,
    ),
)]
#[get("/inspection-items")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<InspectionItemFilter>,
) -> Result<Answer<InspectionItemList>, ApiError> {
    let seen = match query.0.planter_id {
        Some(id) => {
            let row = caller.scope().planters().filter(Column::Id.eq(id)).one(&app.db).await?;
            let Some(row) = row else {
                // Someone else's planter has nothing that is seen from here.
                return Ok(Answer::ok(InspectionItemList { items: Vec::new() }));
            };
            Some(planter_of(&row)?)
        }
        None => None,
    };
    let has = |it: &&Item| seen.as_ref().is_none_or(|planter| it.needs.has(planter));
    let items = ITEMS.iter().filter(has).map(InspectionItem::from).collect();
    Ok(Answer::ok(InspectionItemList { items }))
}
