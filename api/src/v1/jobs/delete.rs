//! `DELETE /v1/jobs/{id}`

use actix_web::delete;
use actix_web::web::Data;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a dead job.
///
/// It is not tried any more, and leaves the attention list. 409 when it is not dead.
#[utoipa::path(
    tag = "jobs", operation_id = "delete_job", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the job."), IdempotencyKey),
    responses((status = 204, description = "The job is gone."), StepWithoutBodyErrors),
)]
#[delete("/jobs/{id}")]
pub(super) async fn delete(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
) -> Result<Written<()>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let row = store::find(tx, caller.practice_id(), id.0).await?;
            store::delete(tx, &row).await?;
            Ok(Done::new(Touched::new("job", row.id), Answer::done()))
        })
        .await
}
