//! `POST /v1/access-links/mail`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{MailAccessLinkIn, QueuedMail};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, ProblemCode};
use crate::jobs::{NewJob, Task, enqueue};
use crate::v1::growers;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Mail a grower an access link.
///
/// To the address of the grower, instead of handing it over. The link is made when the mail goes out and
/// lets whoever has it in, once, for 14 days. 409 when the grower has no e-mail address.
#[utoipa::path(
    tag = "access-links", operation_id = "mail_access_link", security(("bearer" = ["advise"])),
    params(IdempotencyKey),
    request_body(content = MailAccessLinkIn, description = "To whom."),
    responses(
        (status = 202, description = "The mail will go out.", body = QueuedMail), CreateUnderErrors,
    ),
)]
#[post("/access-links/mail")]
pub(super) async fn send_access_link(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    body: Body<MailAccessLinkIn>,
) -> Result<Written<QueuedMail>, ApiError> {
    let MailAccessLinkIn { grower_id } = body.into_inner();
    let practice_id = caller.practice_id();
    write
        .run(&app, &caller, async |tx| {
            let grower = growers::store::find(tx, caller.scope(), grower_id).await?;
            if grower.email.is_none() {
                let detail = "The grower has no e-mail address.";
                return Err(ApiError::new(ProblemCode::WrongState, detail));
            }
            let task = Task::AccessLink { grower_id, made_by: caller.account_id() };
            let new = NewJob { practice_id, task, run_at: app.clock.now(), once_key: None };
            let job = enqueue(tx, &app, new).await?;
            let job_id = job.ok_or_else(|| ApiError::internal("a job that was not stored"))?;
            let touched = Touched::new("grower", grower.id).of_grower(grower.id);
            Ok(Done::new(touched, Answer::accepted(QueuedMail { job_id })))
        })
        .await
}
