//! `POST /v1/jobs/{id}/retry`

use actix_web::post;
use actix_web::web::Data;

use super::dto::Job;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Have a dead job tried again.
///
/// At once, and as often as a new one. 409 when it is not dead.
#[utoipa::path(
    tag = "jobs", operation_id = "retry_job", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the job."), IdempotencyKey),
    responses(
        (status = 200, description = "The job, waiting.", body = Job), StepWithoutBodyErrors,
    ),
)]
#[post("/jobs/{id}/retry")]
pub(super) async fn retry(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
) -> Result<Written<Job>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.practice_id(), id.0).await?;
            let row = store::retry(tx, &app, &row).await?;
            Ok(Done::new(Touched::new("job", row.id), Answer::ok(Job::from(row))))
        })
        .await
}
