//! `GET /v1/dig-checks/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::DigCheck;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a dig check.
///
/// With the readings as they were entered and the judgement as it was made then.
#[utoipa::path(
    tag = "dig-checks", operation_id = "get_dig_check", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the dig check."), UnitsQuery),
    responses(
        (status = 200, description = "The dig check.", body = DigCheck),
        GetErrors,
    ),
)]
#[get("/dig-checks/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<DigCheck>, ApiError> {
    let units = caller.units(query.0.units);
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let adjustments = store::adjustments_of(&app.db, caller.scope(), &[row.id]).await?;
    let adjustment_id = adjustments.get(&row.id).copied();
    Ok(Answer::ok(DigCheck::of(&row, adjustment_id, units.into())?))
}
