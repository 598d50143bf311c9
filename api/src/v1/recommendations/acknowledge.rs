//! `POST /v1/recommendations/{id}/acknowledge`

use actix_web::post;
use actix_web::web::Data;

use super::answer::Recommendation;
use super::create::touched;
use super::in_shed::as_read;
use super::{steps, store};
use crate::app::AppState;
use crate::auth::{Caller, CanAcknowledge};
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, Id, IfMatch, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Acknowledge a recommendation.
///
/// Says that an issued recommendation was seen by whoever will plant, or that the advisor told him.
/// Send the `ETag` you read as `If-Match`: what is acknowledged is what was read.
#[utoipa::path(
    tag = "recommendations", operation_id = "acknowledge_recommendation",
    security(("bearer" = ["acknowledge"])),
    params(
        ("id" = Uuid, Path, description = "Id of the recommendation."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that was read."),
        IdempotencyKey,
    ),
    responses(
        (status = 200, description = "The recommendation, acknowledged.", body = Recommendation,
            headers(("ETag" = String, description = "New version of the recommendation."))),
        StepErrors,
    ),
)]
#[post("/recommendations/{id}/acknowledge")]
pub(super) async fn acknowledge(
    app: Data<AppState>,
    caller: Caller<CanAcknowledge>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
) -> Result<Written<Recommendation>, ApiError> {
    let units = caller.units(query.0.units);
    let by = Author::of(&app, &caller);
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, caller.scope(), id.0).await?;
            let expected = if_match.needed()?;
            let row = steps::acknowledge(tx, &before, &expected, by).await?;
            let (told, etag) = as_read(tx, &row, units).await?;
            Ok(Done::new(touched(tx, &row).await?, Answer::ok(told).tagged(&etag)))
        })
        .await
}
