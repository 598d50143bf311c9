//! `POST /v1/planters/{id}/repairs`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Repair, RepairIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::ReportErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::v1::author::Author;
use crate::v1::inspections::refresh;
use crate::v1::inspections::shed::planter_of;
use crate::v1::planters;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a repair.
///
/// What was replaced or mended, on which rows, on which day. It closes what inspections up to that day
/// found to be replaced there. With a new part its wear begins anew. It is kept as it is; where it turns
/// out that nothing was mended, the next inspection says so and opens it again.
///
/// Block a raised planter before you reach under it, and relieve air, oil and springs.
#[utoipa::path(
    tag = "inspections", operation_id = "create_repair", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), IdempotencyKey),
    request_body(content = RepairIn, description = "What was mended."),
    responses(
        (status = 201, description = "The repair as stored.", body = Repair, headers(
            ("Location" = String, description = "Path of the repairs of the planter."),
        )),
        ReportErrors,
    ),
)]
#[post("/planters/{id}/repairs")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    body: Body<RepairIn>,
) -> Result<Written<Repair>, ApiError> {
    let author = Author::of(&app, &caller);
    let today = caller.calendar().today(author.now);
    let new = body.into_inner();
    write
        .run(&app, &caller, async |tx| {
            let planter = planters::store::find(tx, caller.scope(), id.0).await?;
            let new = new.parse(&planter_of(&planter)?, today)?;
            let row = store::insert(tx, &planter, author, new).await?;
            refresh::planter(tx, &app.ids, &planter).await?;
            let touched = Touched::new("repair", row.id).of_grower(planter.grower_id);
            let location = format!("/v1/planters/{}/repairs", planter.id);
            Ok(Done::new(touched, Answer::created(location, Repair::show(row)?)))
        })
        .await
}
