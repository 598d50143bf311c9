//! `POST /v1/accounts`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Account, AccountIn};
use super::patch::fits;
use super::store;
use crate::app::AppState;
use crate::auth::accounts::{self, NewAccount};
use crate::auth::{Caller, CanManage, no_password};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, BadMember, Body, ETag};
use crate::v1::growers;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add an account.
///
/// For a person of the practice. It has no password: make a link with
/// `POST /v1/accounts/{id}/password-links` and give it to the person.
#[utoipa::path(
    tag = "accounts", operation_id = "create_account", security(("bearer" = ["manage"])),
    params(IdempotencyKey),
    request_body(content = AccountIn, description = "The account."),
    responses(
        (status = 201, description = "The account as stored.", body = Account, headers(
            ("Location" = String, description = "Path of the account."),
            ("ETag" = String, description = "Version of the account."),
        )),
        CreateErrors,
    ),
)]
#[post("/accounts")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    body: Body<AccountIn>,
) -> Result<Written<Account>, ApiError> {
    let new = parse(body.into_inner())?;
    write
        .run(&app, &caller, async |tx| {
            if let Some(grower) = new.grower_id {
                growers::store::check_reference(tx, caller.scope(), grower).await?;
            }
            let (practice, hash) = (caller.practice_id(), no_password::HASH.to_owned());
            let row = accounts::create_with_hash(tx, app.maker(), practice, new, hash).await?;
            let (place, etag) = (format!("/v1/accounts/{}", row.id), ETag::of(row.version));
            let touched = Touched::new("account", row.id);
            let account = store::with_practice(tx, row).await?;
            Ok(Done::new(touched, Answer::created(place, account).tagged(&etag)))
        })
        .await
}

/// Address and name are checked where all accounts are made.
fn parse(body: AccountIn) -> Result<NewAccount, ApiError> {
    let AccountIn { email, display_name, role, grower_id, units } = body;
    fits(role, grower_id)?;
    if no_password::is_made_up(&email.trim().to_lowercase()) {
        let member = BadMember::new("/email", "No mail can reach this address.").given(email);
        return Err(member.into());
    }
    let units = units.unwrap_or_default();
    Ok(NewAccount { email, display_name, role, grower_id, password: String::new(), units })
}
