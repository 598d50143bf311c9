//! `GET /v1/planters/{id}/calibrations/newest`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Calibration;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::planters;
use crate::v1::units::UnitsQuery;

/// Get the newest calibration of a planter.
///
/// Of the latest day, and of that day the last entered. 404 when the planter was never calibrated.
#[utoipa::path(
    tag = "calibrations", operation_id = "get_newest_calibration", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery),
    responses(
        (status = 200, description = "The newest calibration.", body = Calibration),
        GetErrors,
    ),
)]
#[get("/planters/{id}/calibrations/newest")]
pub(super) async fn get_newest(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Calibration>, ApiError> {
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let row = store::newest(&app.db, caller.scope(), planter.id).await?;
    let row = row.ok_or_else(|| ApiError::not_found("calibration of this planter"))?;
    Ok(Answer::ok(Calibration::show(row, caller.units(query.0.units))?))
}
