//! `DELETE /v1/external/{system}/growers/{their_id}`

use actix_web::delete;
use actix_web::web::Data;

use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::intake::Kind;
use crate::http::ApiError;
use crate::http::responses::ExternalDeleteErrors;
use crate::v1::external::path::{ItsId, ItsPath, SystemPath};
use crate::v1::external::untie::untie;
use crate::writes::{IdempotencyKey, Write, Written};

/// Forget the id that a records system gives a grower.
///
/// Only the id goes, with its conflicts: our grower stays. When the record comes again, it is a new one
/// and looks like the grower that is here.
#[utoipa::path(
    tag = "external-ids", operation_id = "delete_external_grower", security(("bearer" = ["connect"])),
    params(SystemPath, ItsPath, IdempotencyKey),
    responses((status = 204, description = "The id is forgotten; our grower stays."), ExternalDeleteErrors),
)]
#[delete("/external/{system}/growers/{their_id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    its: ItsId,
) -> Result<Written<()>, ApiError> {
    untie(&app, &caller, write, (its, Kind::Grower)).await
}
