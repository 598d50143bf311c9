//! `POST /v1/fields/{id}/plantings`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Planting, PlantingIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, Query};
use crate::season;
use crate::v1::author::Author;
use crate::v1::fields;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Report a planting.
///
/// What was planted, when, and with which planter. The same planting sent again is answered 200 with
/// the one that is there. What is odd but possible, such as more area than the field has, is kept
/// and stands in `notices`.
#[utoipa::path(
    tag = "plantings", operation_id = "create_planting", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the field."), UnitsQuery, IdempotencyKey),
    request_body(content = PlantingIn, description = "What was planted."),
    responses(
        (status = 201, description = "The planting as stored.", body = Planting, headers(
            ("Location" = String, description = "Path of the planting."),
            ("ETag" = String, description = "Version of the planting."),
        )),
        (status = 200, description = "The same was sent before: the planting that is there.",
            body = Planting, headers(
            ("ETag" = String, description = "Version of the planting."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/fields/{id}/plantings")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<PlantingIn>,
) -> Result<Written<Planting>, ApiError> {
    let author = Author::of(&app, &caller);
    let given = body.into_inner();
    let (scope, units) = (caller.scope(), caller.units(query.0.units));
    write
        .run(&app, &caller, async |tx| {
            let field = fields::store::find(tx, scope, id.0).await?;
            let new = given.parse(caller.calendar().today(author.now))?;
            let row = store::insert(tx, scope, author, &field, (&given, new)).await?;
            let etag = ETag::of(row.version).in_form(units.code());
            if row.id != author.id {
                let there = Answer::ok(Planting::show(row, units)?).tagged(&etag);
                return Ok(Done::unchanged(there));
            }
            season::keep_plantings(tx, &[&row]).await?;
            let touched = Touched::new("planting", row.id)
                .in_version(row.version)
                .in_field(tx, (row.practice_id, field.id))
                .await?;
            let path = format!("/v1/plantings/{}", row.id);
            let answer = Answer::created(path, Planting::show(row, units)?).tagged(&etag);
            Ok(Done::new(touched, answer))
        })
        .await
}
