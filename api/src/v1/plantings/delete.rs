//! `DELETE /v1/plantings/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::season;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a planting.
///
/// For what was entered by mistake. Refused while stand counts refer to it. `If-Match` is honoured
/// when sent.
#[utoipa::path(
    tag = "plantings", operation_id = "delete_planting", security(("bearer" = ["report"])),
    params(
        ("id" = Uuid, Path, description = "Id of the planting."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The planting is deleted."), DeleteErrors),
)]
#[delete("/plantings/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.scope(), id.0).await?;
            let touched = Touched::new("planting", row.id)
                .in_field(tx, (row.practice_id, row.field_id))
                .await?;
            store::delete(tx, &row, &if_match.or_any()).await?;
            season::keep_plantings(tx, &[&row]).await?;
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
