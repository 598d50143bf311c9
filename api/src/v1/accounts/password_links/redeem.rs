//! `POST /v1/password-links/redeem`

use actix_web::post;
use actix_web::web::Data;

use super::dto::PasswordLinkUse;
use crate::app::AppState;
use crate::auth::network::Network;
use crate::auth::{password, password_links};
use crate::http::responses::RedeemErrors;
use crate::http::{Answer, ApiError, Body, ProblemCode};
use crate::writes::{Done, Touched, Write, Written};

/// Set a password by a link.
///
/// The link is spent, and all sessions of the account end. Then sign in with the new password. From
/// a network from which many wrong links come no more are taken for a while.
#[utoipa::path(
    tag = "accounts", operation_id = "redeem_password_link", security(()),
    request_body(content = PasswordLinkUse, description = "The link and the new password."),
    responses((status = 204, description = "The password is set."), RedeemErrors),
)]
#[post("/password-links/redeem")]
pub(super) async fn redeem(
    app: Data<AppState>,
    network: Network,
    write: Write,
    body: Body<PasswordLinkUse>,
) -> Result<Written<()>, ApiError> {
    let PasswordLinkUse { token, new_password } = body.into_inner();
    password::check_new("/new_password", &new_password)?;
    let now = app.clock.now();
    app.throttle.begin_from(network.0, now).map_err(|seconds| {
        let detail = format!("Too many wrong links. Try again in {seconds} seconds.");
        ApiError::try_later(ProblemCode::TooManyRequests, detail, seconds)
    })?;
    let (link, account) = password_links::find(&app.db, &token, now).await?;
    app.throttle.succeeded_from(network.0, now);
    write
        .run_prepared(
            &app,
            &account,
            async || app.passwords.hash(new_password).await,
            async |tx, hash| {
                password_links::redeem(tx, (&link, &account), hash, now).await?;
                Ok(Done::new(Touched::new("account", account.id), Answer::done().secret()))
            },
        )
        .await
}
