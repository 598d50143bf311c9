//! `GET /v1/coefficient-sets/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::CoefficientSet;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};

/// Get the coefficients behind a recommendation.
///
/// The whole set that a recommendation was worked out with, as it was then: `coefficient_set_id` of
/// the recommendation names it. Recommendations of the same figures share a set.
#[utoipa::path(
    tag = "coefficients", operation_id = "get_coefficient_set", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the set.")),
    responses(
        (status = 200, description = "The set.", body = CoefficientSet),
        GetErrors,
    ),
)]
#[get("/coefficient-sets/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<CoefficientSet>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    Ok(Answer::ok(CoefficientSet::of(row)?))
}
