//! `PATCH /v1/fields/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Field, FieldPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, Query};
use crate::v1::units::UnitsQuery;

/// Change a field.
///
/// What is absent stays; `null` empties. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "fields", operation_id = "update_field", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the field."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
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
    caller: Caller<CanAdvise>,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: Body<FieldPatch>,
) -> Result<Answer<Field>, ApiError> {
    let change = body.into_inner().parse()?;
    let before = store::find(&app.db, caller.scope(), id.0).await?;
    let expected = if_match.needed()?;
    let row = store::update(&app.db, before, &expected, app.clock.now(), change).await?;
    let units = caller.units(query.0.units);
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Field::show(row, units)?).tagged(&etag))
}
