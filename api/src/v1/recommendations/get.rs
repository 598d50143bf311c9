//! `GET /v1/recommendations/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::answer::Recommendation;
use super::in_shed::as_read;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a recommendation.
///
/// In the units of the account, or those asked for. A grower's account does not see drafts.
#[utoipa::path(
    tag = "recommendations", operation_id = "get_recommendation", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery),
    responses(
        (status = 200, description = "The recommendation.", body = Recommendation, headers(
            ("ETag" = String, description = "Version of the recommendation."),
        )),
        GetErrors,
    ),
)]
#[get("/recommendations/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Recommendation>, ApiError> {
    let units = caller.units(query.0.units);
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let (told, etag) = as_read(&app.db, &row, units).await?;
    Ok(Answer::ok(told).tagged(&etag))
}
