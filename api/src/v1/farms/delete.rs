//! `DELETE /v1/farms/{id}`

use actix_web::web::Data;
use actix_web::{HttpResponse, delete};

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::DeleteErrors;
use crate::http::{ApiError, Id, IfMatch};

/// Delete a farm.
///
/// Refused while it has fields. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "farms", operation_id = "delete_farm", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the farm."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
    ),
    responses((status = 204, description = "The farm is deleted."), DeleteErrors),
)]
#[delete("/farms/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    if_match: IfMatch,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    store::delete(&app.db, &row, &if_match.or_any()).await?;
    Ok(HttpResponse::NoContent().finish())
}
