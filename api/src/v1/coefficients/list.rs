//! `GET /v1/coefficients`

use actix_web::get;
use actix_web::web::Data;

use super::figure::{CoefficientFilter, CoefficientList};
use super::in_force::in_force;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List coefficients.
///
/// Every number that the calculations for the practice start from, in one answer: its figure, its
/// range, how it is known and where it stands; where the practice has put its own figure in the
/// place of the one that ships, both. A figure marked `assumption` or `from_memory` is a start, not
/// a fact: it is shown as such wherever it is used, and digs or a scale correct it.
#[utoipa::path(
    tag = "coefficients", operation_id = "list_coefficients", security(("bearer" = ["read"])),
    params(CoefficientFilter),
    responses(
        (status = 200, description = "The coefficients in force.", body = CoefficientList),
        ListErrors,
    ),
)]
#[get("/coefficients")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<CoefficientFilter>,
) -> Result<Answer<CoefficientList>, ApiError> {
    let CoefficientFilter { mark } = query.0;
    let held = in_force(&app.db, caller.scope()).await?;
    Ok(Answer::ok(CoefficientList::of(&held, mark)))
}
