//! `GET /v1/attention-limits`

use actix_web::get;
use actix_web::web::Data;

use super::dto::AttentionLimits;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, ETag};

/// Get when something needs somebody.
///
/// After how long a sheet that nobody saw, a dig that did not come in and so on stand on the
/// attention list. What ships is ours; the lead of a practice sets its own.
#[utoipa::path(
    tag = "attention", operation_id = "get_attention_limits", security(("bearer" = ["read"])),
    responses(
        (status = 200, description = "The limits.", body = AttentionLimits, headers(
            ("ETag" = String, description = "Version of the limits."),
        )),
        ListErrors,
    ),
)]
#[get("/attention-limits")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
) -> Result<Answer<AttentionLimits>, ApiError> {
    let (limits, version) = store::find(&app.db, caller.practice_id()).await?;
    Ok(Answer::ok(AttentionLimits::of(&limits, version)).tagged(&ETag::of(version)))
}
