//! `POST /v1/adjustments/{id}/decline`

use actix_web::post;
use actix_web::web::Data;

use super::decided::{done, touched};
use super::dto::{Adjustment, DeclineIn};
use super::store::{self, Decision};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::StepErrors;
use crate::http::{ApiError, Body, Id, IfMatch, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;
use crate::writes::{IdempotencyKey, Write, Written};

/// Decline an adjustment.
///
/// The recommendation stays as it is; the reason is kept for whoever dug. 409 when the adjustment
/// was decided already. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "adjustments", operation_id = "decline_adjustment", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the adjustment."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that was read."),
        IdempotencyKey,
    ),
    request_body(content = DeclineIn, description = "Why."),
    responses(
        (status = 200, description = "The adjustment, declined.", body = Adjustment, headers(
            ("ETag" = String, description = "New version of the adjustment."),
        )),
        StepErrors,
    ),
)]
#[post("/adjustments/{id}/decline")]
pub(super) async fn decline(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: Body<DeclineIn>,
) -> Result<Written<Adjustment>, ApiError> {
    let reason = body.into_inner().parse()?;
    let units = caller.units(query.0.units);
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, scope, id.0).await?;
            let expected = if_match.needed()?;
            let decision = Decision { id: before.id, expected: &expected, by };
            let decided = store::decline(tx, scope, decision, reason).await?;
            done(touched(tx, &decided).await?, decided, units)
        })
        .await
}
