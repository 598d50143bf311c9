//! `DELETE /v1/coefficients/{name}`

use actix_web::delete;
use actix_web::web::{Data, Path};
use domain::provenance::Coefficients;

use super::named::named;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, IfMatch};
use crate::v1::author::Author;
use crate::v1::inspections::refresh;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Go back to the standard coefficient.
///
/// The figure that ships holds again for the practice; nothing happens where it holds already. The
/// own figure stays in the history. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "coefficients", operation_id = "reset_coefficient", security(("bearer" = ["advise"])),
    params(
        ("name" = String, Path, description = "Name of the coefficient."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is given up; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The standard figure holds."), DeleteErrors),
)]
#[delete("/coefficients/{name}")]
pub(super) async fn reset(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    name: Path<String>,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    let k = named(&Coefficients::STANDARD, &name)?;
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    write
        .run(&app, &caller, async |tx| {
            let newest = store::newest_of(tx, scope, k.name).await?;
            let before = store::version_of(newest.as_ref());
            if_match.or_any().check(before)?;
            if newest.as_ref().and_then(store::figure_of).is_none() {
                return Ok(Done::unchanged(Answer::done()));
            }
            store::append(tx, scope, by, (k.name, before), (None, None)).await?;
            refresh::after_figure(tx, &app.ids, (scope.practice_id, k.name)).await?;
            Ok(Done::new(Touched::new("coefficient", k.name), Answer::done()))
        })
        .await
}
