//! `POST /v1/accounts/{id}/password-links`

use actix_web::post;
use actix_web::web::Data;

use super::dto::PasswordLink;
use crate::app::AppState;
use crate::auth::password_links::{self, NewLink};
use crate::auth::{Caller, CanManage};
use crate::http::responses::PasswordLinkErrors;
use crate::http::{Answer, ApiError, Id, ProblemCode};
use crate::v1::accounts::store;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Make a link that sets a password.
///
/// For a new account, or for someone who forgot his password. The link works once, for seven days;
/// earlier ones of the account stop working. Until it is used, the old password and the sessions
/// stay.
#[utoipa::path(
    tag = "accounts", operation_id = "create_password_link", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the account."), IdempotencyKey),
    responses(
        (status = 201, description = "The link, with its secret.", body = PasswordLink, headers(
            ("Location" = String, description = "Path of the account."),
        )),
        PasswordLinkErrors,
    ),
)]
#[post("/accounts/{id}/password-links")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
) -> Result<Written<PasswordLink>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let account = store::find(tx, caller.practice_id(), id.0).await?;
            if account.disabled_at.is_some() {
                let detail = "The account is shut out. Let it in again first.";
                return Err(ApiError::new(ProblemCode::WrongState, detail));
            }
            let made = password_links::make(tx, &account, app.ids.next(), app.clock.now()).await?;
            let NewLink { id, token, expires_at } = made;
            let place = format!("/v1/accounts/{}", account.id);
            let link = PasswordLink { id, account_id: account.id, token, expires_at };
            Ok(Done::new(
                Touched::new("account", account.id),
                Answer::created(place, link).secret(),
            ))
        })
        .await
}
