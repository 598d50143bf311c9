//! `GET /v1/parts-list`

use actix_web::get;
use actix_web::web::Data;
use sea_orm::{ColumnTrait, QueryFilter, QueryOrder};

use super::dto::{PartsList, PartsListFilter};
use super::gather;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::entities::planters::Column;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// Get the list of parts for the shed.
///
/// What to buy or to have done, how many, for which rows of which planters: all that inspections found
/// to be replaced and nobody has mended. With `planter_id` or `grower_id` also what reaches its limit
/// within what is planned for the season; over the whole practice only what is due now. Prices are those
/// entered with the limits of a planter.
#[utoipa::path(
    tag = "inspections", operation_id = "get_parts_list", security(("bearer" = ["read"])),
    params(PartsListFilter),
    responses(
        (status = 200, description = "The list.", body = PartsList),
        ListErrors,
    ),
)]
#[get("/parts-list")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<PartsListFilter>,
) -> Result<Answer<PartsList>, ApiError> {
    let PartsListFilter { planter_id, grower_id } = query.0;
    let (db, scope) = (&app.db, caller.scope());
    let mut rows = scope.planters().order_by_asc(Column::Name).order_by_asc(Column::Id);
    if let Some(id) = planter_id {
        rows = rows.filter(Column::Id.eq(id));
    }
    if let Some(id) = grower_id {
        rows = rows.filter(Column::GrowerId.eq(id));
    }
    let few = planter_id.is_some() || grower_id.is_some();
    let (planters, due) = if few {
        let planters = rows.all(db).await?;
        let mut due = gather::now(db, scope, Some(&planters)).await?;
        let today = caller.calendar().today(app.clock.now());
        for planter in &planters {
            let already = due.entry(planter.id).or_default();
            gather::this_season(db, planter, (today, already)).await?;
        }
        (planters, due)
    } else {
        let due = gather::now(db, scope, None).await?;
        let named = rows.filter(Column::Id.is_in(due.keys().copied()));
        (named.all(db).await?, due)
    };
    Ok(Answer::ok(gather::list(db, scope, (planters, due)).await?))
}
