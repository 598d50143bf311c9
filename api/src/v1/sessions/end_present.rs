//! `DELETE /v1/sessions/present`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::sessions::{self, WayOut};
use crate::auth::{Caller, CanRead};
use crate::http::responses::EndErrors;
use crate::http::{Answer, ApiError};
use crate::writes::{Done, Touched, Write, Written};

/// Sign out.
///
/// Ends the session of the access token; both its tokens stop working at once. A token without a
/// session (of a machine client) has nothing to end: 404.
#[utoipa::path(
    tag = "sessions", operation_id = "end_present_session", security(("bearer" = ["read"])),
    responses((status = 204, description = "Signed out."), EndErrors),
)]
#[delete("/sessions/present")]
pub(super) async fn end_present(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    write: Write,
) -> Result<Written<()>, ApiError> {
    let present = caller.session_id().ok_or_else(|| ApiError::not_found("open session"))?;
    write
        .run(&app, &caller, async |tx| {
            let now = app.clock.now();
            let row = store::find(tx, &caller, now, present).await?;
            sessions::end(tx, (row.practice_id, row.id), WayOut::SignedOut, now).await?;
            Ok(Done::new(Touched::new("session", row.id), Answer::done()))
        })
        .await
}
