//! `DELETE /v1/fields/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a field.
///
/// Refused while conditions reports or recommendations refer to it. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "fields", operation_id = "delete_field", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the field."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The field is deleted."), DeleteErrors),
)]
#[delete("/fields/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.scope(), id.0).await?;
            let touched =
                Touched::new("field", row.id).in_field(tx, (row.practice_id, row.id)).await?;
            store::delete(tx, &row, &if_match.or_any()).await?;
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
