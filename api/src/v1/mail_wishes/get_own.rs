//! `GET /v1/accounts/me/mail`

use actix_web::get;
use actix_web::web::Data;

use super::dto::OwnMail;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError};
use crate::mail::wishes::{self, Whose};

/// Get what you get by mail.
///
/// How often the attention list comes, and when the next one does. Nothing comes until you ask for it.
#[utoipa::path(
    tag = "accounts", operation_id = "get_own_mail", security(("bearer" = ["read"])),
    responses((status = 200, description = "What you get.", body = OwnMail), ListErrors),
)]
#[get("/accounts/me/mail")]
pub(super) async fn get_own(
    app: Data<AppState>,
    caller: Caller<CanRead>,
) -> Result<Answer<OwnMail>, ApiError> {
    let whose = Whose::Account(caller.account_id());
    let row = wishes::find(&app.db, caller.practice_id(), whose).await?;
    Ok(Answer::ok(OwnMail::of(row.as_ref())))
}
