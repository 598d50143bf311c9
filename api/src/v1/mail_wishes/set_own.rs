//! `PUT /v1/accounts/me/mail`

use actix_web::put;
use actix_web::web::Data;

use super::dto::{OwnMail, OwnMailIn};
use crate::app::AppState;
use crate::auth::{Caller, CanRead, no_password};
use crate::entities::mail_wishes::Digest;
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, ProblemCode};
use crate::mail::wishes::{self, Whose};
use crate::writes::{Actor, Done, IdempotencyKey, Touched, Write, Written};

/// Say what you want to get by mail.
///
/// A digest of the attention list, each day or each week, where anything needs you: an advisor gets what
/// is his, a lead what is the practice's. 409 for an account without an e-mail address.
#[utoipa::path(
    tag = "accounts", operation_id = "set_own_mail", security(("bearer" = ["read"])),
    params(IdempotencyKey),
    request_body(content = OwnMailIn, description = "What you want."),
    responses((status = 200, description = "What you get.", body = OwnMail), CreateUnderErrors),
)]
#[put("/accounts/me/mail")]
pub(super) async fn set_own(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    write: Write,
    body: Body<OwnMailIn>,
) -> Result<Written<OwnMail>, ApiError> {
    let when = body.into_inner().parse()?;
    let by = (caller.practice_id(), caller.account_id());
    let actor = Actor::from(&caller);
    let account = caller.into_account();
    write
        .run(&app, actor, async |tx| {
            if when.digest != Digest::None && no_password::is_made_up(&account.email) {
                let detail = "The account has no e-mail address.";
                return Err(ApiError::new(ProblemCode::WrongState, detail));
            }
            let row = wishes::set(tx, &app, by, Whose::Account(by.1), (when, false)).await?;
            Ok(Done::new(Touched::new("account", by.1), Answer::ok(OwnMail::of(Some(&row)))))
        })
        .await
}
