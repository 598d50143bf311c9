//! `POST /v1/recommendations/{id}/issue`

use actix_web::post;
use actix_web::web::Data;

use super::answer::Recommendation;
use super::{steps, store};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, ETag, Id, IfMatch, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;

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
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
) -> Result<Answer<Recommendation>, ApiError> {
    let units = caller.units(query.0.units);
    let before = store::find(&app.db, caller.scope(), id.0).await?;
    let expected = if_match.needed()?;
    let by = Author::of(&app, &caller);
    let row = steps::issue(&app.db, &before, &expected, by).await?;
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Recommendation::of(&row, units.into())?).tagged(&etag))
}
