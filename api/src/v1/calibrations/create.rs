//! `POST /v1/planters/{id}/calibrations`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Calibration, CalibrationIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::planters;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a calibration.
///
/// Two points give a line, more give the least-squares line. It is kept as it is; the newest one
/// counts.
#[utoipa::path(
    tag = "calibrations", operation_id = "create_calibration", security(("bearer" = ["keep"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery, IdempotencyKey),
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
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<CalibrationIn>,
) -> Result<Written<Calibration>, ApiError> {
    let author = Author::of(&app, &caller);
    let new = body.into_inner().parse(author.now.date_naive())?;
    let units = caller.units(query.0.units);
    write
        .run(&app, &caller, async |tx| {
            let planter = planters::store::find(tx, caller.scope(), id.0).await?;
            let row = store::insert(tx, &planter, author, new).await?;
            let touched = Touched::new("calibration", row.id).of_grower(planter.grower_id);
            let newest = format!("/v1/planters/{}/calibrations/newest", id.0);
            Ok(Done::new(touched, Answer::created(newest, Calibration::show(row, units)?)))
        })
        .await
}
