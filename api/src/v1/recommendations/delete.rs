//! `DELETE /v1/recommendations/{id}`

use actix_web::web::Data;
use actix_web::{HttpResponse, delete};

use super::{steps, store};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::DeleteDraftErrors;
use crate::http::{ApiError, Id, IfMatch};

/// Delete a draft.
///
/// What was issued stays for good. `If-Match` is honoured when sent.
#[utoipa::path(
    tag = "recommendations", operation_id = "delete_recommendation",
    security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the recommendation."),
        ("If-Match" = Option<String>, Header, nullable = false,
            description = "`ETag` of the version that is deleted; any when absent."),
    ),
    responses((status = 204, description = "The draft is deleted."), DeleteDraftErrors),
)]
#[delete("/recommendations/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    if_match: IfMatch,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    steps::delete(&app.db, &row, &if_match.or_any()).await?;
    Ok(HttpResponse::NoContent().finish())
}
