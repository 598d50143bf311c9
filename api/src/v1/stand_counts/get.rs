//! `GET /v1/stand-counts/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::answer::StandCount;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a stand count.
///
/// With the counts as they were entered and what they were worked out to say then.
#[utoipa::path(
    tag = "stand-counts", operation_id = "get_stand_count", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the stand count."), UnitsQuery),
    responses(
        (status = 200, description = "The stand count.", body = StandCount),
        GetErrors,
    ),
)]
#[get("/stand-counts/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<StandCount>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    Ok(Answer::ok(StandCount::show(&row, caller.units(query.0.units).into())?))
}
