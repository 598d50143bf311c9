//! `PATCH /v1/planters/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Planter, PlanterPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};
use crate::v1::inspections::refresh;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a planter.
///
/// What is absent stays; a makeup is exchanged as a whole. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "planters", operation_id = "update_planter", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the planter."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = PlanterPatch, description = "What changes."),
    responses(
        (status = 200, description = "The planter as it is now.", body = Planter, headers(
            ("ETag" = String, description = "New version of the planter."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/planters/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<PlanterPatch>,
) -> Result<Written<Planter>, ApiError> {
    let change = body.into_inner().parse()?;
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.scope(), id.0).await?;
            let expected = if_match.needed()?;
            let row = store::update(tx, before, &expected, app.clock.now(), change).await?;
            refresh::planter(tx, &app.ids, &row).await?;
            let touched =
                Touched::new("planter", row.id).in_version(row.version).of_grower(row.grower_id);
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Planter::show(row)?).tagged(&etag)))
        })
        .await
}
