//! `POST /v1/records-links/{id}/test`

use actix_web::post;
use actix_web::web::Data;

use super::dto::RecordsTest;
use super::store::{self, Whose};
use super::trial;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::TestLinkErrors;
use crate::http::{Answer, ApiError, Id};

/// Test a link to a records system.
///
/// Asks for one page of each resource and shows the first records as they came beside what is read in them, and
/// every pointer that found nothing. Nothing is stored; ask again after each change of the link.
#[utoipa::path(
    tag = "records-links", operation_id = "test_records_link",
    security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the link.")),
    responses(
        (status = 200, description = "What was found.", body = RecordsTest),
        TestLinkErrors,
    ),
)]
#[post("/records-links/{id}/test")]
pub(super) async fn test(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
) -> Result<Answer<RecordsTest>, ApiError> {
    let link = store::find(&app.db, Whose::of(&caller), id.0).await?;
    Ok(Answer::ok(trial::of(&app, &link).await?).secret())
}
