//! `POST /v1/accounts/{id}/password-links/mail`

use actix_web::post;
use actix_web::web::Data;

use super::dto::QueuedMail;
use crate::app::AppState;
use crate::auth::{Caller, CanManage, no_password};
use crate::http::responses::PasswordLinkErrors;
use crate::http::{Answer, ApiError, Id, ProblemCode};
use crate::jobs::{NewJob, Task, enqueue};
use crate::v1::accounts::store;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Mail a link that sets a password.
///
/// To the address of the account, instead of handing it over. It is made when the mail goes out, works
/// once, for seven days, and earlier ones stop working then. 409 when the account is shut out or has no
/// address.
#[utoipa::path(
    tag = "accounts", operation_id = "mail_password_link", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the account."), IdempotencyKey),
    responses(
        (status = 202, description = "The mail will go out.", body = QueuedMail),
        PasswordLinkErrors,
    ),
)]
#[post("/accounts/{id}/password-links/mail")]
pub(super) async fn send_password_link(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
) -> Result<Written<QueuedMail>, ApiError> {
    let practice_id = caller.practice_id();
    write
        .run(&app, &caller, async |tx| {
            let account = store::find(tx, practice_id, id.0).await?;
            if account.disabled_at.is_some() || no_password::is_made_up(&account.email) {
                let detail = "The account is shut out, or has no e-mail address.";
                return Err(ApiError::new(ProblemCode::WrongState, detail));
            }
            let task = Task::PasswordLink { account_id: account.id };
            let new = NewJob { practice_id, task, run_at: app.clock.now(), once_key: None };
            let job = enqueue(tx, &app, new).await?;
            let job_id = job.ok_or_else(|| ApiError::internal("a job that was not stored"))?;
            let touched = Touched::new("account", account.id);
            Ok(Done::new(touched, Answer::accepted(QueuedMail { job_id })))
        })
        .await
}
