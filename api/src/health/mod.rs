//! Whether the service lives, whether it is ready, and what its problems mean. Open to all.

use actix_web::get;
use actix_web::web::{Data, Path};
use serde::Serialize;
use utoipa::ToSchema;

use crate::app::AppState;
use crate::db;
use crate::http::responses::PublicErrors;
use crate::http::{Answer, ApiError, ProblemCode};
use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(live).service(ready).service(get_problem);
}

/// How the service is.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"status": "pass"})))]
pub struct Health {
    /// `pass`: well.
    #[schema(example = "pass")]
    pub status: String,
}

/// One type of problem.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "code": "stale",
    "status": 412,
    "title": "The object has changed since you read it",
    "meaning": "Read the object anew, look at the change, and send yours with the new `ETag` in `If-Match`."
})))]
pub struct ProblemType {
    /// Stable name; the same as `code` in a problem.
    #[schema(example = "stale")]
    pub code: String,
    /// The HTTP status it comes with.
    #[schema(minimum = 400, maximum = 599, example = 412)]
    pub status: u16,
    /// Short title.
    #[schema(example = "The object has changed since you read it")]
    pub title: String,
    /// What it means and what to do.
    #[schema(
        example = "Read the object anew, look at the change, and send yours with the new ETag."
    )]
    pub meaning: String,
}

/// Say whether the service lives.
///
/// Answers as long as the process runs; asks nothing of the database.
#[utoipa::path(
    tag = "service", operation_id = "get_liveness", security(()),
    responses((status = 200, description = "The service lives.", body = Health), PublicErrors),
)]
#[get("/health/live")]
async fn live() -> Answer<Health> {
    let well = std::future::ready("pass".to_owned()).await;
    Answer::ok(Health { status: well }).secret()
}

/// Say whether the service is ready for requests.
///
/// Ready means that the database answers and its schema is up to date; 503 otherwise.
#[utoipa::path(
    tag = "service", operation_id = "get_readiness", security(()),
    responses((status = 200, description = "The service is ready.", body = Health), PublicErrors),
)]
#[get("/health/ready")]
async fn ready(app: Data<AppState>) -> Result<Answer<Health>, ApiError> {
    if db::is_ready(&app.db).await {
        return Ok(Answer::ok(Health { status: "pass".to_owned() }).secret());
    }
    Err(ApiError::try_later(
        ProblemCode::Unavailable,
        "The database does not answer, or its schema is not up to date.",
        5,
    ))
}

/// Explain a type of problem.
///
/// The `type` of every problem is the path of this operation.
#[utoipa::path(
    tag = "service", operation_id = "get_problem_type", security(()),
    params(("code" = String, Path, description = "The `code` of the problem.", example = "stale",
        max_length = 64)),
    responses(
        (status = 200, description = "What the problem means.", body = ProblemType),
        crate::http::responses::PublicGetErrors,
    ),
)]
#[get("/problems/{code}")]
async fn get_problem(code: Path<String>) -> Result<Answer<ProblemType>, ApiError> {
    let row = std::future::ready(ProblemCode::of(&code)).await;
    let row = row.ok_or_else(|| ApiError::not_found("type of problem"))?;
    Ok(Answer::ok(ProblemType {
        code: row.code().to_owned(),
        status: row.status().as_u16(),
        title: row.title().to_owned(),
        meaning: row.meaning().to_owned(),
    }))
}
