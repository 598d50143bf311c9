//! `PATCH /v1/yields/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Yield, YieldPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, Query};
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a yield.
///
/// What is absent stays; `null` empties. Grain, basis and moisture must go together afterwards. Send
/// the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "yields", operation_id = "update_yield", security(("bearer" = ["report"])),
    params(
        ("id" = Uuid, Path, description = "Id of the yield."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = YieldPatch, description = "What changes."),
    responses(
        (status = 200, description = "The yield as it is now.", body = Yield, headers(
            ("ETag" = String, description = "New version of the yield."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/yields/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: Body<YieldPatch>,
) -> Result<Written<Yield>, ApiError> {
    let now = app.clock.now();
    let change = body.into_inner();
    let (scope, units) = (caller.scope(), caller.units(query.0.units));
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, scope, id.0).await?;
            let expected = if_match.needed()?;
            let change = change.parse(caller.calendar().today(now))?;
            let row = store::update(tx, scope, before, &expected, (now, change)).await?;
            let touched = Touched::new("yield", row.id)
                .in_version(row.version)
                .in_field(tx, (row.practice_id, row.field_id))
                .await?;
            let etag = ETag::of(row.version).in_form(units.code());
            Ok(Done::new(touched, Answer::ok(Yield::show(row, units)?).tagged(&etag)))
        })
        .await
}
