//! `GET /v1/access-links/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::AccessLink;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};

/// Get an access link.
///
/// Without its token; `status` says whether it works.
#[utoipa::path(
    tag = "access-links", operation_id = "get_access_link", security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the link.")),
    responses((status = 200, description = "The link.", body = AccessLink), GetErrors),
)]
#[get("/access-links/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
) -> Result<Answer<AccessLink>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    Ok(Answer::ok(AccessLink::at(app.clock.now(), row)))
}
