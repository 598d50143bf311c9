//! `POST /v1/planters/{id}/calibrations`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Calibration, CalibrationIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::planters;
use crate::v1::units::UnitsQuery;

/// Add a calibration.
///
/// Two points give a line, more give the least-squares line. It is kept as it is; the newest one
/// counts.
#[utoipa::path(
    tag = "calibrations", operation_id = "create_calibration", security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery),
    request_body(content = CalibrationIn, description = "What was measured."),
    responses(
        (status = 201, description = "The calibration as stored.", body = Calibration, headers(
            ("Location" = String, description = "Path of the newest calibration of the planter."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/planters/{id}/calibrations")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<CalibrationIn>,
) -> Result<Answer<Calibration>, ApiError> {
    let author = Author::of(&app, &caller);
    let new = body.into_inner().parse(author.now.date_naive())?;
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let row = store::insert(&app.db, &planter, author, new).await?;
    let calibration = Calibration::show(row, caller.units(query.0.units))?;
    Ok(Answer::created(format!("/v1/planters/{}/calibrations/newest", id.0), calibration))
}
