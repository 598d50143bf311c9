//! `POST /v1/sessions/refresh`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Session, SessionRefresh};
use crate::app::AppState;
use crate::auth::sessions::{self, Refreshed};
use crate::http::responses::RefreshErrors;
use crate::http::{Answer, ApiError, Body};
use crate::v1::accounts::store;
use crate::writes::{Done, Touched, Write, Written};

/// Refresh a session.
///
/// Gives a new access token and a new refresh token; the one that was sent is spent. Keep the new one
/// before you use it. If the answer was lost, send the same token again within a minute: it gets the
/// same new refresh token. Later, or once the new one was used, a spent token means that somebody
/// has copied it, and the whole session ends.
#[utoipa::path(
    tag = "sessions", operation_id = "refresh_session", security(()),
    request_body(content = SessionRefresh, description = "The newest refresh token."),
    responses((status = 200, description = "The session goes on.", body = Session), RefreshErrors),
)]
#[post("/sessions/refresh")]
pub(super) async fn refresh(
    app: Data<AppState>,
    write: Write,
    body: Body<SessionRefresh>,
) -> Result<Written<Session>, ApiError> {
    let SessionRefresh { refresh_token } = body.into_inner();
    let now = app.clock.now();
    app.keys.renew_if_due(&app.db, now).await;
    let account = sessions::owner(&app.db, &refresh_token).await?;
    write
        .run(&app, &account, async |tx| {
            match sessions::refresh(tx, &app, &account, &refresh_token, now).await? {
                Refreshed::GoesOn(opened) => {
                    let account = store::with_practice(tx, account.clone()).await?;
                    // Nothing for the audit trail: the same person is still signed in.
                    Ok(Done::unchanged(Answer::ok(Session::of(opened, account)).secret()))
                }
                Refreshed::Stopped(session, error) => {
                    Ok(Done::refused(Touched::new("session", session), error))
                }
            }
        })
        .await
}
