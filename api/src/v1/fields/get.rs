//! `GET /v1/fields/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Field;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a field.
///
/// A grower's account sees only its own.
#[utoipa::path(
    tag = "fields", operation_id = "get_field", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), UnitsQuery),
    responses(
        (status = 200, description = "The field.", body = Field, headers(
            ("ETag" = String, description = "Version of the field."),
        )),
        GetErrors,
    ),
)]
#[get("/fields/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<Field>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let units = caller.units(query.0.units);
    let etag = ETag::of(row.version).in_form(units.code());
    Ok(Answer::ok(Field::show(row, units)?).tagged(&etag))
}
