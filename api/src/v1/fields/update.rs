//! `PATCH /v1/fields/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Field, FieldPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, Query};
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a field.
///
/// What is absent stays; `null` empties. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "fields", operation_id = "update_field", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the field."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = FieldPatch, description = "What changes."),
    responses(
        (status = 200, description = "The field as it is now.", body = Field, headers(
            ("ETag" = String, description = "New version of the field."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/fields/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: Body<FieldPatch>,
) -> Result<Written<Field>, ApiError> {
    let change = body.into_inner().parse()?;
    let units = caller.units(query.0.units);
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.scope(), id.0).await?;
            let expected = if_match.needed()?;
            let row = store::update(tx, before, &expected, app.clock.now(), change).await?;
            let touched = Touched::new("field", row.id)
                .in_version(row.version)
                .in_field(tx, (row.practice_id, row.id))
                .await?;
            let etag = ETag::of(row.version).in_form(units.code());
            Ok(Done::new(touched, Answer::ok(Field::show(row, units)?).tagged(&etag)))
        })
        .await
}
