//! `GET /v1/adjustments/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Adjustment;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get an adjustment.
///
/// In the units of the account, or those asked for.
#[utoipa::path(
    tag = "adjustments", operation_id = "get_adjustment", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the adjustment."), UnitsQuery),
    responses(
        (status = 200, description = "The adjustment.", body = Adjustment, headers(
            ("ETag" = String, description = "Version of the adjustment."),
        )),
        GetErrors,
    ),
)]
#[get("/adjustments/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Adjustment>, ApiError> {
    let units = caller.units(query.0.units);
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Adjustment::of(row, units.into())?).tagged(&etag))
}
