//! `PUT /v1/external/{system}/farms/{their_id}`

use actix_web::put;
use actix_web::web::Data;

use super::show;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::ExternalPutErrors;
use crate::http::{ApiError, Body, IfMatch};
use crate::v1::external::dto::ExternalFarm;
use crate::v1::external::path::{ItsId, ItsPath, PutConditions, SystemPath};
use crate::v1::external::put::{Put, Taken};
use crate::v1::external::said::ExternalFarmIn;
use crate::writes::{IdempotencyKey, Write, Written};

/// Put a farm by its id in a records system.
///
/// Safe to repeat. A farm that came before is changed where the records system changed it since; what
/// was changed here meanwhile stays, and what both changed waits for a person (409). A new one that
/// looks like a farm that is here waits for a person too (409); otherwise it is made (201), unless it
/// was erased here: then a person must say first that it may come again (409). What the body does not
/// speak of stays. A new farm needs its grower: send the grower before, or in a batch with it.
#[utoipa::path(
    tag = "external-ids", operation_id = "put_external_farm", security(("bearer" = ["connect"])),
    params(SystemPath, ItsPath, PutConditions, IdempotencyKey),
    request_body(content = ExternalFarmIn, description = "What the records system says of the farm."),
    responses(
        (status = 201, description = "The farm was made.", body = ExternalFarm, headers(
            ("Location" = String, description = "Path of the record."),
            ("ETag" = String, description = "Version of the farm."),
        )),
        (status = 200, description = "The farm was changed, or is as the record says.",
            body = ExternalFarm, headers(
            ("ETag" = String, description = "Version of the farm."),
        )),
        ExternalPutErrors,
    ),
)]
#[put("/external/{system}/farms/{their_id}")]
pub(super) async fn put(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    its: ItsId,
    if_match: IfMatch,
    body: Body<ExternalFarmIn>,
) -> Result<Written<ExternalFarm>, ApiError> {
    let put = Put { app, caller, write, its, if_match, operation: "put_external_farm" };
    let shown = async |tx: &_, scope, Taken { outcome, external_id }| {
        show(tx, scope, (Some(outcome), external_id)).await
    };
    put.take(body.into_inner(), shown).await
}
