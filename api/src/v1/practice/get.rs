//! `GET /v1/practice`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Practice;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, ETag};

/// Get one's own practice.
///
/// The practice of the account that is signed in, with its settings.
#[utoipa::path(
    tag = "practice", operation_id = "get_practice", security(("bearer" = ["read"])),
    responses(
        (status = 200, description = "The practice.", body = Practice, headers(
            ("ETag" = String, description = "Version of the practice."),
        )),
        ListErrors,
    ),
)]
#[get("/practice")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
) -> Result<Answer<Practice>, ApiError> {
    let row = store::find(&app.db, caller.practice_id()).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Practice::from(row)).tagged(&etag))
}
