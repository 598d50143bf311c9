//! `POST /v1/fields/{id}/stand-counts`

use actix_web::post;
use actix_web::web::Data;

use super::answer::StandCount;
use super::observation::StandReportIn;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::fields;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send a stand count.
///
/// Counts at several places, by length of row, by hoop, or by a wheel rolled past 150 plants. The
/// answer says the stand with its interval (places are the units), the share of the seeds that came
/// up, what gaps and late plants are known to cost, and how evenly the plants stand where their
/// places were measured. A stand count is never changed; the same one sent again is answered 200 with
/// the one that is there. 409 when nobody entered what was planted in the field.
#[utoipa::path(
    tag = "stand-counts", operation_id = "create_stand_count", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the field."), UnitsQuery, IdempotencyKey),
    request_body(content = StandReportIn, description = "What was counted."),
    responses(
        (status = 201, description = "The stand count, worked out.", body = StandCount, headers(
            ("Location" = String, description = "Path of the stand count."),
        )),
        (status = 200, description = "The same was sent before: the stand count that is there.",
            body = StandCount),
        CreateUnderErrors,
    ),
)]
#[post("/fields/{id}/stand-counts")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<StandReportIn>,
) -> Result<Written<StandCount>, ApiError> {
    let author = Author::of(&app, &caller);
    let given = body.into_inner();
    let (scope, units) = (caller.scope(), caller.units(query.0.units));
    write
        .run(&app, &caller, async |tx| {
            let field = fields::store::find(tx, scope, id.0).await?;
            let today = caller.calendar().today(author.now);
            let row = store::insert(tx, scope, author, &field, (&given, today)).await?;
            let new = row.id == author.id;
            let (id, practice_id) = (row.id, row.practice_id);
            let shown = StandCount::show(&row, units.into())?;
            if !new {
                return Ok(Done::unchanged(Answer::ok(shown)));
            }
            let touched =
                Touched::new("stand_count", id).in_field(tx, (practice_id, field.id)).await?;
            Ok(Done::new(touched, Answer::created(format!("/v1/stand-counts/{id}"), shown)))
        })
        .await
}
