//! `GET /v1/external-ids`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};
use sea_orm::{ColumnTrait, QueryFilter};

use super::dto::{ExternalId, ExternalIdFilter, ExternalIdPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::entities::external_ids::Column;
use crate::exchange::intake::{Kind, System};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List the external ids of our objects.
///
/// Which ids records systems give to a grower and all that is his, to a farm, a field or a planter. A
/// grower's account sees only its own.
#[utoipa::path(
    tag = "external-ids", operation_id = "list_external_ids", security(("bearer" = ["read"])),
    params(ExternalIdFilter),
    responses(
        (status = 200, description = "A page of ids.", body = ExternalIdPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/external-ids")]
pub(super) async fn list_ids(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<ExternalIdFilter>,
    request: HttpRequest,
) -> Result<Answer<ExternalIdPage>, ApiError> {
    let ExternalIdFilter { system, grower_id, farm_id, field_id, planter_id, limit, cursor } =
        query.0;
    let asked = Asked { limit, cursor, ..Asked::default() };
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked)?;
    let mut rows = caller.scope().external_ids();
    if let Some(system) = system {
        let system = System::parse("?system", &system)?;
        rows = rows.filter(Column::System.eq(system.as_str()));
    }
    if let Some(grower_id) = grower_id {
        rows = rows.filter(Column::GrowerId.eq(grower_id));
    }
    for (kind, id) in [(Kind::Farm, farm_id), (Kind::Field, field_id), (Kind::Planter, planter_id)]
    {
        if let Some(id) = id {
            rows = rows.filter(Column::Kind.eq(kind)).filter(Column::ObjectId.eq(id));
        }
    }
    let found = store::page(&app.db, rows, &page).await?;
    let items = found.rows.into_iter().map(ExternalId::from).collect();
    let next = found.next_cursor;
    Ok(Answer::page(ExternalIdPage { items, next_cursor: next.clone(), total: found.total }, next))
}
