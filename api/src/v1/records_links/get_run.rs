//! `GET /v1/records-links/{id}/runs/{run_id}`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::RecordsRunDetail;
use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::pull::runs::store as runs;
use crate::http::id::parse_id;
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};

/// Read a run of a link to a records system.
///
/// How far it is, how many records came of each kind and what became of them, and each record that was refused,
/// waits for a person, or is not as it was.
#[utoipa::path(
    tag = "records-links", operation_id = "get_records_run",
    security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the link."),
        ("run_id" = Uuid, Path, description = "Id of the run."),
    ),
    responses((status = 200, description = "The run.", body = RecordsRunDetail), GetErrors),
)]
#[get("/records-links/{id}/runs/{run_id}")]
pub(super) async fn get_run(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
    request: HttpRequest,
) -> Result<Answer<RecordsRunDetail>, ApiError> {
    let run_id = request.match_info().get("run_id").and_then(parse_id);
    let run_id = run_id.ok_or_else(|| ApiError::not_found("run"))?;
    let link = store::find(&app.db, Whose::of(&caller), id.0).await?;
    let run = runs::find(&app.db, &link, run_id).await?;
    Ok(Answer::ok(RecordsRunDetail::show(&run)?))
}
