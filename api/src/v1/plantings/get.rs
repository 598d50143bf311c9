//! `GET /v1/plantings/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Planting;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a planting.
///
/// What has a unit is answered as it was entered.
#[utoipa::path(
    tag = "plantings", operation_id = "get_planting", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planting."), UnitsQuery),
    responses(
        (status = 200, description = "The planting.", body = Planting, headers(
            ("ETag" = String, description = "Version of the planting."),
        )),
        GetErrors,
    ),
)]
#[get("/plantings/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Planting>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let units = caller.units(query.0.units);
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Planting::show(row, units)?).tagged(&etag))
}
