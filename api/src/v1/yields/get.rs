//! `GET /v1/yields/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Yield;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a yield.
///
/// What was entered is answered as it was entered; the dry matter is in the caller's units.
#[utoipa::path(
    tag = "yields", operation_id = "get_yield", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the yield."), UnitsQuery),
    responses(
        (status = 200, description = "The yield.", body = Yield, headers(
            ("ETag" = String, description = "Version of the yield."),
        )),
        GetErrors,
    ),
)]
#[get("/yields/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Yield>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let units = caller.units(query.0.units);
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Yield::show(row, units)?).tagged(&etag))
}
