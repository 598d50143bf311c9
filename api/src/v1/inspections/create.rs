//! `POST /v1/planters/{id}/inspections`

use actix_web::post;
use actix_web::web::Data;
use domain::quantity::{Area, Measured, bounds};

use super::dto::InspectionIn;
use super::shed::{Shed, Visit};
use super::show::Inspection;
use super::{check, refresh, store};
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::ReportErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::planters;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add an inspection.
///
/// What was seen and measured in the shed, item by item of the checklist, row by row where it matters.
/// A measurement is judged by the limit in force: the owner's from the manual, else a published one.
/// Where a person and a measurement disagree, both are shown and the worse counts. It is kept as it is:
/// a correction is a new inspection that names the one it `replaces_id`, so that what was advised in
/// between can be understood. Refused: rows and parts that the planter does not have, a part larger than
/// new, or one that became better without a repair on record.
///
/// Block a raised planter before you reach under it, and relieve air, oil and springs. The machine's
/// manual wins.
#[utoipa::path(
    tag = "inspections", operation_id = "create_inspection", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery, IdempotencyKey),
    request_body(content = InspectionIn, description = "What was found."),
    responses(
        (status = 201, description = "The inspection, judged.", body = Inspection, headers(
            ("Location" = String, description = "Path of the inspection."),
        )),
        ReportErrors,
    ),
)]
#[post("/planters/{id}/inspections")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<InspectionIn>,
) -> Result<Written<Inspection>, ApiError> {
    let author = Author::of(&app, &caller);
    let new = body.into_inner().parse(caller.calendar().today(author.now))?;
    let units = caller.units(query.0.units);
    write
        .run(&app, &caller, async |tx| {
            let planter = planters::store::find(tx, caller.scope(), id.0).await?;
            if let Some(corrected) = new.replaces_id {
                store::to_be_corrected(tx, caller.scope(), (planter.id, corrected)).await?;
            }
            let mut shed = Shed::load(tx, &planter).await?;
            shed.visits.retain(|visit| Some(visit.id) != new.replaces_id);
            let counter = new.entered.area_counter.as_ref();
            let counter = counter.and_then(|it| it.parse("", &bounds::PLANTED_AREA).ok());
            let found = check::findings(&new.entered.findings, &shed)?;
            let (on, counter) = (new.inspected_on, counter.map(Area::si));
            let visit = Visit { id: author.id, on, found, counter, plan: None };
            check::against_before(&visit, &shed)?;
            let row = store::insert(tx, &planter, author, new).await?;
            refresh::planter(tx, &app.ids, &planter).await?;
            let touched = Touched::new("inspection", row.id).of_grower(planter.grower_id);
            let location = format!("/v1/inspections/{}", row.id);
            let shown = Inspection::show(&row, &shed, None, units.into())?;
            Ok(Done::new(touched, Answer::created(location, shown)))
        })
        .await
}
