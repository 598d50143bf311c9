//! `GET /v1/record-conflicts/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::RecordConflict;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a conflict with a records system.
///
/// What was taken last, what is here, and what they say. Gone once it is decided, or both sides agree.
#[utoipa::path(
    tag = "external-ids", operation_id = "get_record_conflict", security(("bearer" = ["keep"])),
    params(("id" = Uuid, Path, description = "Id of the conflict.")),
    responses(
        (status = 200, description = "The conflict.", body = RecordConflict, headers(
            ("ETag" = String, description = "Version of what they say."),
        )),
        GetErrors,
    ),
)]
#[get("/record-conflicts/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    id: Id,
) -> Result<Answer<RecordConflict>, ApiError> {
    let scope = caller.scope();
    let row = store::find(&app.db, scope, id.0).await?;
    let etag = ETag::of(row.version);
    let shown = store::show(&app.db, scope, vec![row]).await?.pop();
    let shown = shown.ok_or_else(|| ApiError::not_found("conflict"))?;
    // What is here may change without the conflict.
    let etag = etag.and(&shown.ours)?;
    Ok(Answer::ok(shown).tagged(&etag))
}
