//! `GET /v1/jobs/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Job;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};

/// Get a piece of the service's work.
///
/// How often it was tried, and why it failed. Whom mail goes to is not said: that is looked up when it
/// is sent.
#[utoipa::path(
    tag = "jobs", operation_id = "get_job", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the job.")),
    responses((status = 200, description = "The job.", body = Job), GetErrors),
)]
#[get("/jobs/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    id: Id,
) -> Result<Answer<Job>, ApiError> {
    Ok(Answer::ok(Job::from(store::find(&app.db, caller.practice_id(), id.0).await?)))
}
