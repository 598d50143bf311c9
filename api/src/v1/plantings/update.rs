//! `PATCH /v1/plantings/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Planting, PlantingPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, Query};
use crate::season;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a planting.
///
/// What is absent stays; `null` empties. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "plantings", operation_id = "update_planting", security(("bearer" = ["report"])),
    params(
        ("id" = Uuid, Path, description = "Id of the planting."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = PlantingPatch, description = "What changes."),
    responses(
        (status = 200, description = "The planting as it is now.", body = Planting, headers(
            ("ETag" = String, description = "New version of the planting."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/plantings/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: Body<PlantingPatch>,
) -> Result<Written<Planting>, ApiError> {
    let now = app.clock.now();
    let change = body.into_inner();
    let (scope, units) = (caller.scope(), caller.units(query.0.units));
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, scope, id.0).await?;
            let expected = if_match.needed()?;
            let change = change.parse(caller.calendar().today(now))?;
            let row = store::update(tx, scope, before.clone(), &expected, (now, change)).await?;
            season::keep_plantings(tx, &[&before, &row]).await?;
            let touched = Touched::new("planting", row.id)
                .in_version(row.version)
                .in_field(tx, (row.practice_id, row.field_id))
                .await?;
            let etag = ETag::of(row.version).in_form(units.code());
            Ok(Done::new(touched, Answer::ok(Planting::show(row, units)?).tagged(&etag)))
        })
        .await
}
