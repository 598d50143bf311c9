//! `PUT /v1/external/{system}/fields/{their_id}`

use actix_web::put;
use actix_web::web::Data;

use super::show;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::ExternalPutErrors;
use crate::http::{ApiError, Body, IfMatch, Query};
use crate::v1::external::dto::ExternalField;
use crate::v1::external::path::{ItsId, ItsPath, PutConditions, SystemPath};
use crate::v1::external::put::{Put, Taken};
use crate::v1::external::said::ExternalFieldIn;
use crate::v1::units::UnitsQuery;
use crate::writes::{IdempotencyKey, Write, Written};

/// Put a field by its id in a records system.
///
/// Safe to repeat. A field that came before is changed where the records system changed it since; what
/// was changed here meanwhile stays, and what both changed waits for a person (409). A new one that
/// looks like a field that is here waits for a person too (409); otherwise it is made (201), unless it
/// was erased here: then a person must say first that it may come again (409). What the body does not
/// speak of stays. The body is a GeoJSON Feature. A new field needs its farm: send the farm before, or
/// in a batch with it. Swapped coordinates, a boundary that crosses itself, and an area that would fit
/// the boundary in another unit are refused, never put right.
#[utoipa::path(
    tag = "external-ids", operation_id = "put_external_field", security(("bearer" = ["connect"])),
    params(SystemPath, ItsPath, PutConditions, UnitsQuery, IdempotencyKey),
    request_body(content = ExternalFieldIn, description = "What the records system says of the field."),
    responses(
        (status = 201, description = "The field was made.", body = ExternalField, headers(
            ("Location" = String, description = "Path of the record."),
            ("ETag" = String, description = "Version of the field."),
        )),
        (status = 200, description = "The field was changed, or is as the record says.",
            body = ExternalField, headers(
            ("ETag" = String, description = "Version of the field."),
        )),
        ExternalPutErrors,
    ),
)]
#[put("/external/{system}/fields/{their_id}")]
pub(super) async fn put(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    its: ItsId,
    if_match: IfMatch,
    query: Query<UnitsQuery>,
    body: Body<ExternalFieldIn>,
) -> Result<Written<ExternalField>, ApiError> {
    let units = caller.units(query.0.units);
    let put = Put { app, caller, write, its, if_match, operation: "put_external_field" };
    let shown = async |tx: &_, scope, Taken { outcome, external_id }| {
        show(tx, scope, (Some(outcome), external_id), units).await
    };
    put.take(body.into_inner(), shown).await
}
