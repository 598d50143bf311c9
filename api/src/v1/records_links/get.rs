//! `GET /v1/records-links/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::RecordsLink;
use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Read a link to a records system.
///
/// Without its secret.
#[utoipa::path(
    tag = "records-links", operation_id = "get_records_link",
    security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the link.")),
    responses(
        (status = 200, description = "The link.", body = RecordsLink, headers(
            ("ETag" = String, description = "Version of the link."),
        )),
        GetErrors,
    ),
)]
#[get("/records-links/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
) -> Result<Answer<RecordsLink>, ApiError> {
    let row = store::find(&app.db, Whose::of(&caller), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(RecordsLink::show(row)?).tagged(&etag))
}
