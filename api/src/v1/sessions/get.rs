//! `GET /v1/sessions/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::OpenSession;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};

/// Get one of one's own sessions.
///
/// Only while it is open.
#[utoipa::path(
    tag = "sessions", operation_id = "get_own_session", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the session.")),
    responses((status = 200, description = "The session.", body = OpenSession), GetErrors),
)]
#[get("/sessions/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<OpenSession>, ApiError> {
    let row = store::find(&app.db, &caller, app.clock.now(), id.0).await?;
    Ok(Answer::ok(OpenSession::seen_from(&row, caller.session_id())))
}
