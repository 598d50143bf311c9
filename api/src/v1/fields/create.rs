//! `POST /v1/fields`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Field, FieldIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Query};
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a field.
///
/// The boundary must enclose land: closed rings that do not cross. Its area is worked out on the
/// ellipsoid of WGS 84.
#[utoipa::path(
    tag = "fields", operation_id = "create_field", security(("bearer" = ["keep"])),
    params(UnitsQuery, IdempotencyKey),
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
    caller: Caller<CanKeep>,
    write: Write,
    query: Query<UnitsQuery>,
    body: Body<FieldIn>,
) -> Result<Written<Field>, ApiError> {
    let new = body.into_inner().parse()?;
    let (id, now) = (app.ids.next(), app.clock.now());
    let units = caller.units(query.0.units);
    write
        .run(&app, &caller, async |tx| {
            let row = store::insert(tx, caller.scope(), id, now, new).await?;
            let touched = Touched::new("field", id)
                .in_version(row.version)
                .in_field(tx, (row.practice_id, row.id))
                .await?;
            let etag = ETag::of(row.version).in_form(units.code());
            let answer = Answer::created(format!("/v1/fields/{id}"), Field::show(row, units)?);
            Ok(Done::new(touched, answer.tagged(&etag)))
        })
        .await
}
