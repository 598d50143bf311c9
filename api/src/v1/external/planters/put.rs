//! `PUT /v1/external/{system}/planters/{their_id}`

use actix_web::put;
use actix_web::web::Data;

use super::show;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::ExternalPutErrors;
use crate::http::{ApiError, Body, IfMatch};
use crate::v1::external::dto::ExternalPlanter;
use crate::v1::external::path::{ItsId, ItsPath, PutConditions, SystemPath};
use crate::v1::external::put::{Put, Taken};
use crate::v1::external::said::ExternalPlanterIn;
use crate::writes::{IdempotencyKey, Write, Written};

/// Put a planter by its id in a records system.
///
/// Safe to repeat. A planter that came before is changed where the records system changed it since;
/// what was changed here meanwhile stays, and what both changed waits for a person (409). A new one
/// that looks like a planter that is here waits for a person too (409); otherwise it is made (201),
/// unless it was erased here: then a person must say first that it may come again (409). What the body
/// does not speak of stays. Records systems seldom know what Dibble needs of a planter. A new one
/// without its make-up waits until a person gives it; from then on name, rows and row spacing follow
/// the records system.
#[utoipa::path(
    tag = "external-ids", operation_id = "put_external_planter", security(("bearer" = ["connect"])),
    params(SystemPath, ItsPath, PutConditions, IdempotencyKey),
    request_body(content = ExternalPlanterIn, description = "What the records system says of the planter."),
    responses(
        (status = 201, description = "The planter was made.", body = ExternalPlanter, headers(
            ("Location" = String, description = "Path of the record."),
            ("ETag" = String, description = "Version of the planter."),
        )),
        (status = 200, description = "The planter was changed, or is as the record says.",
            body = ExternalPlanter, headers(
            ("ETag" = String, description = "Version of the planter."),
        )),
        ExternalPutErrors,
    ),
)]
#[put("/external/{system}/planters/{their_id}")]
pub(super) async fn put(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    its: ItsId,
    if_match: IfMatch,
    body: Body<ExternalPlanterIn>,
) -> Result<Written<ExternalPlanter>, ApiError> {
    let put = Put { app, caller, write, its, if_match, operation: "put_external_planter" };
    let shown = async |tx: &_, scope, Taken { outcome, external_id }| {
        show(tx, scope, (Some(outcome), external_id)).await
    };
    put.take(body.into_inner(), shown).await
}
