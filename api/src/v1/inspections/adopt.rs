//! `POST /v1/inspections/{id}/adoption`

use actix_web::post;
use actix_web::web::Data;
use domain::quantity::{Length, Measured, bounds};

use super::shed::Shed;
use super::{opener, refresh, store};
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::quantity::Quantity;
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, ETag, Id, ProblemCode, Query};
use crate::v1::planters;
use crate::v1::planters::dto::Planter;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Take the measured opener discs over into the make-up.
///
/// Puts the mean diameter of the rows, as this inspection measured them and repairs have changed them
/// since, into `makeup.unit.opener.measured` of the planter: recommendations reckon with that one. It is
/// a step of its own because a grower may report an inspection, and keeping the make-up is for those who
/// keep planters; and because a sheet must not change by what somebody measures in a shed. Only the
/// newest inspection that measured the discs can be taken over.
#[utoipa::path(
    tag = "inspections", operation_id = "adopt_inspection", security(("bearer" = ["keep"])),
    params(("id" = Uuid, Path, description = "Id of the inspection."), UnitsQuery, IdempotencyKey),
    responses(
        (status = 200, description = "The planter as it is now.", body = Planter, headers(
            ("ETag" = String, description = "New version of the planter."),
        )),
        StepWithoutBodyErrors,
    ),
)]
#[post("/inspections/{id}/adoption")]
pub(super) async fn adopt(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Written<Planter>, ApiError> {
    let system = caller.units(query.0.units).into();
    write
        .run(&app, &caller, async |tx| {
            let inspection = store::find(tx, caller.scope(), id.0).await?;
            let before = planters::store::find(tx, caller.scope(), inspection.planter_id).await?;
            let now = opener::now(&Shed::load(tx, &before).await?);
            let now = now.filter(|now| now.inspection_id == inspection.id).ok_or_else(other)?;
            let mut makeup = planters::store::makeup(&before)?;
            let mean = Length::from_si(now.mean);
            makeup.unit.opener.measured =
                Some(Quantity::show(&bounds::DISC_DIAMETER, mean, system));
            let any = crate::http::etag::Expected(Some(vec![before.version]));
            let change = (None, Some(makeup));
            let row = planters::store::update(tx, before, &any, app.clock.now(), change).await?;
            refresh::planter(tx, &app.ids, &row).await?;
            let touched = Touched::new("planter", row.id).of_grower(row.grower_id);
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Planter::show(row)?).tagged(&etag)))
        })
        .await
}

fn other() -> ApiError {
    ApiError::new(
        ProblemCode::WrongState,
        "This is not the newest inspection that counts and measured the opener discs.",
    )
}
