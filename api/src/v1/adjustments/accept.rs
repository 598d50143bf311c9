//! `POST /v1/adjustments/{id}/accept`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{AcceptIn, Adjustment};
use super::store::{self, Decision};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::body::BodyOrNone;
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, ETag, Id, IfMatch, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;

/// Accept an adjustment.
///
/// Makes the next revision of the recommendation with exactly this one change: planter, field and
/// all other goals stay as they were worked out before, so that the next dig shows what the change
/// did. What the engine has no setting for becomes an instruction on the sheet. The new revision is
/// a draft, or issued at once with `issue`. 409 when the adjustment was decided already, when the
/// recommendation was superseded meanwhile, or when its series has a draft. Send the `ETag` you
/// read as `If-Match`.
#[utoipa::path(
    tag = "adjustments", operation_id = "accept_adjustment", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the adjustment."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that was read."),
    ),
    request_body(content = AcceptIn, description = "`{}` accepts it as it is proposed; so does no body."),
    responses(
        (status = 200, description = "The adjustment, accepted.", body = Adjustment, headers(
            ("ETag" = String, description = "New version of the adjustment."),
        )),
        StepErrors,
    ),
)]
#[post("/adjustments/{id}/accept")]
pub(super) async fn accept(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: BodyOrNone<AcceptIn>,
) -> Result<Answer<Adjustment>, ApiError> {
    let AcceptIn { goals, issue } = body.0.unwrap_or_default();
    goals.parse("/goals")?;
    let units = caller.units(query.0.units);
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    let before = store::find(&app.db, scope, id.0).await?;
    let expected = if_match.needed()?;
    let decision = Decision { id: before.id, expected: &expected, by };
    let row = store::accept(&app, scope, decision, &goals, units.into(), issue).await?;
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Adjustment::of(row, units.into())?).tagged(&etag))
}
