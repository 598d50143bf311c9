//! `POST /v1/fields`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Field, FieldIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Query};
use crate::v1::units::UnitsQuery;

/// Add a field.
///
/// The boundary must enclose land: closed rings that do not cross. Its area is worked out on the
/// ellipsoid of WGS 84.
#[utoipa::path(
    tag = "fields", operation_id = "create_field", security(("bearer" = ["advise"])),
    params(UnitsQuery),
    request_body(content = FieldIn, description = "The field."),
    responses(
        (status = 201, description = "The field as stored.", body = Field, headers(
            ("Location" = String, description = "Path of the field."),
            ("ETag" = String, description = "Version of the field."),
        )),
        CreateErrors,
    ),
)]
#[post("/fields")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    query: Query<UnitsQuery>,
    body: Body<FieldIn>,
) -> Result<Answer<Field>, ApiError> {
    let new = body.into_inner().parse()?;
    let (id, now) = (app.ids.next(), app.clock.now());
    let row = store::insert(&app.db, caller.scope(), id, now, new).await?;
    let units = caller.units(query.0.units);
    let etag = ETag::of(row.version).in_form(units.code());
    let field = Field::show(row, units)?;
    Ok(Answer::created(format!("/v1/fields/{id}"), field).tagged(&etag))
}
