//! `PUT /v1/accounts/me/password`

use actix_web::put;
use actix_web::web::Data;

use super::dto::PasswordChange;
use crate::app::AppState;
use crate::auth::network::Network;
use crate::auth::{Caller, CanRead, password, password_links, sessions};
use crate::entities::accounts;
use crate::http::responses::PasswordErrors;
use crate::http::{Answer, ApiError, BadMember, Body, ProblemCode};
use crate::writes::{Actor, Done, Touched, Write, Written};

/// Change one's own password.
///
/// Ends all other sessions of the account; the present one goes on. Wrong passwords count as in
/// signing in.
#[utoipa::path(
    tag = "accounts", operation_id = "change_own_password", security(("bearer" = ["read"])),
    request_body(content = PasswordChange, description = "The old and the new password."),
    responses((status = 204, description = "The password is changed."), PasswordErrors),
)]
#[put("/accounts/me/password")]
pub(super) async fn change_password(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    network: Network,
    write: Write,
    body: Body<PasswordChange>,
) -> Result<Written<()>, ApiError> {
    let PasswordChange { current_password, new_password } = body.into_inner();
    password::check_new("/new_password", &new_password)?;
    let (by, present) = (Actor::from(&caller), caller.session_id());
    let account = caller.into_account();
    write
        .run_prepared(
            &app,
            by,
            async || {
                prove(&app, network, &account, current_password).await?;
                app.passwords.hash(new_password).await
            },
            async |tx, hash| {
                if !sessions::credentials_still_hold(tx, &account).await? {
                    return Err(wrong());
                }
                password_links::set_password(tx, &account, hash, present, app.clock.now()).await?;
                Ok(Done::new(Touched::new("account", account.id), Answer::done().secret()))
            },
        )
        .await
}

async fn prove(
    app: &AppState,
    network: Network,
    account: &accounts::Model,
    current: String,
) -> Result<(), ApiError> {
    let now = app.clock.now();
    app.throttle.begin(&account.email, network.0, now).map_err(|seconds| {
        let detail = format!("Too many wrong passwords. Try again in {seconds} seconds.");
        ApiError::try_later(ProblemCode::TooManyRequests, detail, seconds)
    })?;
    if !app.passwords.is_right(current, Some(account.password_hash.clone())).await? {
        return Err(wrong());
    }
    app.throttle.succeeded(&account.email, network.0, now);
    Ok(())
}

/// Not 401: the access token is good, so signing in again would not help.
fn wrong() -> ApiError {
    BadMember::new("/current_password", "This is not the password of the account.").into()
}
