//! `GET /v1/farms/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Farm;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a farm.
///
/// A grower's account sees only its own.
#[utoipa::path(
    tag = "farms", operation_id = "get_farm", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the farm.")),
    responses(
        (status = 200, description = "The farm.", body = Farm, headers(
            ("ETag" = String, description = "Version of the farm."),
        )),
        GetErrors,
    ),
)]
#[get("/farms/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<Farm>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Farm::from(row)).tagged(&etag))
}
