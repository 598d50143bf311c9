//! `PUT /v1/coefficients/{name}`

use actix_web::put;
use actix_web::web::{Data, Path};
use domain::provenance::Coefficients;

use super::figure::CoefficientInForce;
use super::in_force::in_force;
use super::named::named;
use super::own::OwnFigureIn;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, IfMatch};
use crate::v1::author::Author;
use crate::v1::inspections::refresh;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Set a coefficient for the practice.
///
/// Puts the practice's own figure, with its range and its source, in the place of the one that
/// ships. From then on every calculation for the practice rests on it; what was recommended before
/// keeps the figures it was worked out with. Every change is kept. Send the `ETag` you read as
/// `If-Match`; `"0"` is the version of a coefficient that was never changed.
#[utoipa::path(
    tag = "coefficients", operation_id = "set_coefficient", security(("bearer" = ["advise"])),
    params(
        ("name" = String, Path, description = "Name of the coefficient."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = OwnFigureIn, description = "The figure, its range and its source."),
    responses(
        (status = 200, description = "The coefficient as it is now.", body = CoefficientInForce,
            headers(("ETag" = String, description = "New version of the practice's figure."))),
        UpdateErrors,
    ),
)]
#[put("/coefficients/{name}")]
pub(super) async fn set(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    name: Path<String>,
    if_match: IfMatch,
    body: Body<OwnFigureIn>,
) -> Result<Written<CoefficientInForce>, ApiError> {
    let k = named(&Coefficients::STANDARD, &name)?;
    let (own, note) = body.into_inner().parse(&k)?;
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    write
        .run(&app, &caller, async |tx| {
            let expected = if_match.needed()?;
            let before = store::version_of(store::newest_of(tx, scope, k.name).await?.as_ref());
            expected.check(before)?;
            let row = store::append(tx, scope, by, (k.name, before), (Some(own), note)).await?;
            let k = named(&in_force(tx, scope).await?.set, &name)?;
            refresh::after_figure(tx, &app.ids, (scope.practice_id, k.name)).await?;
            let etag = ETag::of(row.version).in_form(domain::settings::ENGINE);
            let answer = Answer::ok(CoefficientInForce::of(&k, Some(&row))).tagged(&etag);
            Ok(Done::new(Touched::new("coefficient", k.name), answer))
        })
        .await
}
