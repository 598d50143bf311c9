//! `GET /v1/record-matches/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::RecordMatch;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a record that waits for a person.
///
/// What it says, and the objects that it may be. Gone once it is decided, or no longer sent.
#[utoipa::path(
    tag = "external-ids", operation_id = "get_record_match", security(("bearer" = ["keep"])),
    params(("id" = Uuid, Path, description = "Id under which it waits.")),
    responses(
        (status = 200, description = "The record.", body = RecordMatch, headers(
            ("ETag" = String, description = "Version of what it says."),
        )),
        GetErrors,
    ),
)]
#[get("/record-matches/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    id: Id,
) -> Result<Answer<RecordMatch>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(RecordMatch::show(row)?).tagged(&etag))
}
