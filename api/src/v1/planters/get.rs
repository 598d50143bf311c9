//! `GET /v1/planters/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Planter;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a planter.
///
/// A grower's account sees only its own.
#[utoipa::path(
    tag = "planters", operation_id = "get_planter", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter.")),
    responses(
        (status = 200, description = "The planter.", body = Planter, headers(
            ("ETag" = String, description = "Version of the planter."),
        )),
        GetErrors,
    ),
)]
#[get("/planters/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<Planter>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Planter::show(row)?).tagged(&etag))
}
