//! `POST /v1/fields/{id}/yields`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Yield, YieldIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, Query};
use crate::v1::author::Author;
use crate::v1::fields;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Report a yield.
///
/// What was harvested from a field, as a mass of grain on an area, with the water that it counts. The
/// same yield sent again is answered 200 with the one that is there.
#[utoipa::path(
    tag = "yields", operation_id = "create_yield", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the field."), UnitsQuery, IdempotencyKey),
    request_body(content = YieldIn, description = "What was harvested."),
    responses(
        (status = 201, description = "The yield as stored.", body = Yield, headers(
            ("Location" = String, description = "Path of the yield."),
            ("ETag" = String, description = "Version of the yield."),
        )),
        (status = 200, description = "The same was sent before: the yield that is there.",
            body = Yield, headers(
            ("ETag" = String, description = "Version of the yield."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/fields/{id}/yields")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<YieldIn>,
) -> Result<Written<Yield>, ApiError> {
    let author = Author::of(&app, &caller);
    let given = body.into_inner();
    let (scope, units) = (caller.scope(), caller.units(query.0.units));
    write
        .run(&app, &caller, async |tx| {
            let field = fields::store::find(tx, scope, id.0).await?;
            let new = given.parse(caller.calendar().today(author.now))?;
            let row = store::insert(tx, scope, author, field.id, (&given, new)).await?;
            let etag = ETag::of(row.version).in_form(units.code());
            let (id, is_new) = (row.id, row.id == author.id);
            let touched = Touched::new("yield", id).in_version(row.version);
            let shown = Yield::show(row, units)?;
            if !is_new {
                return Ok(Done::unchanged(Answer::ok(shown).tagged(&etag)));
            }
            let touched = touched.in_field(tx, (field.practice_id, field.id)).await?;
            let answer = Answer::created(format!("/v1/yields/{id}"), shown).tagged(&etag);
            Ok(Done::new(touched, answer))
        })
        .await
}
