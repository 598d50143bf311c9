//! `POST /v1/recommendations/{id}/issue`

use actix_web::post;
use actix_web::web::Data;

use super::answer::Recommendation;
use super::create::touched;
use super::in_shed::as_read;
use super::{steps, store};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::changes::ChangeType;
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, Id, IfMatch, Query};
use crate::mail::sheet_ready;
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Issue a recommendation.
///
/// Shows a draft to the grower. From then on it is never changed; a revision takes its place. The
/// revision of the series that counted until now becomes `superseded` at the same moment. Send the
/// `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "recommendations", operation_id = "issue_recommendation",
    security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the recommendation."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that is issued."),
        IdempotencyKey,
    ),
    responses(
        (status = 200, description = "The recommendation, issued.", body = Recommendation, headers(
            ("ETag" = String, description = "New version of the recommendation."),
        )),
        StepErrors,
    ),
)]
#[post("/recommendations/{id}/issue")]
pub(super) async fn issue(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
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
            let (row, superseded) = steps::issue(tx, &before, &expected, by).await?;
            sheet_ready::announce(tx, &app, (row.practice_id, row.id)).await?;
            let (told, etag) = as_read(tx, &row, units).await?;
            let touched = superseded.into_iter().fold(touched(tx, &row).await?, |all, id| {
                all.also(ChangeType::SettingsSheetSuperseded, id)
            });
            Ok(Done::new(touched, Answer::ok(told).tagged(&etag)))
        })
        .await
}
