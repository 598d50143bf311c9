//! `POST /v1/adjustments/{id}/accept`

use actix_web::post;
use actix_web::web::Data;

use super::decided::{done, touched};
use super::dto::{AcceptIn, Adjustment};
use super::store::{self, Accepted, Decision, Wanted};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::changes::ChangeType;
use crate::http::body::BodyOrNone;
use crate::http::responses::StepErrors;
use crate::http::{ApiError, Id, IfMatch, Query};
use crate::mail::sheet_ready;
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;
use crate::writes::{IdempotencyKey, Write, Written};

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
        IdempotencyKey,
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
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: BodyOrNone<AcceptIn>,
) -> Result<Written<Adjustment>, ApiError> {
    let AcceptIn { goals, issue } = body.0.unwrap_or_default();
    goals.parse("/goals")?;
    let units = caller.units(query.0.units);
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    write
        .run_prepared(
            &app,
            &caller,
            async || store::in_force(&app, scope, by).await,
            async |tx, in_force| {
                let before = store::find(tx, scope, id.0).await?;
                let expected = if_match.needed()?;
                let decision = Decision { id: before.id, expected: &expected, by };
                let wanted = Wanted { otherwise: &goals, system: units.into(), issue };
                let Accepted { row, next_id, superseded } =
                    store::accept(tx, scope, decision, wanted, in_force).await?;
                if issue {
                    sheet_ready::announce(tx, &app, (row.practice_id, next_id)).await?;
                }
                let touched = touched(tx, &row).await?.also(next_sheet(issue), next_id);
                let touched = superseded
                    .into_iter()
                    .fold(touched, |all, id| all.also(ChangeType::SettingsSheetSuperseded, id));
                done(touched, row, units)
            },
        )
        .await
}

/// What those who follow are told of the next revision.
fn next_sheet(issued: bool) -> ChangeType {
    if issued { ChangeType::SettingsSheetPublished } else { ChangeType::SettingsSheetDrafted }
}
