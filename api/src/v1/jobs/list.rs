//! `GET /v1/jobs`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Job, JobFilter, JobPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List the work of the service.
///
/// Mail that waits, went out, or was given up, oldest first. What is dead stays until it is tried
/// again or deleted; what is done is kept for a week.
#[utoipa::path(
    tag = "jobs", operation_id = "list_jobs", security(("bearer" = ["manage"])),
    params(JobFilter),
    responses(
        (status = 200, description = "A page of the work.", body = JobPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/jobs")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    query: Query<JobFilter>,
    request: HttpRequest,
) -> Result<Answer<JobPage>, ApiError> {
    let JobFilter { status, limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, caller.practice_id(), status, &page).await?;
    let items = rows.into_iter().map(Job::from).collect();
    Ok(Answer::page(JobPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
