//! `GET /v1/growers/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Grower;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a grower.
///
/// A grower's account sees only its own.
#[utoipa::path(
    tag = "growers", operation_id = "get_grower", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the grower.")),
    responses(
        (status = 200, description = "The grower.", body = Grower, headers(
            ("ETag" = String, description = "Version of the grower."),
        )),
        GetErrors,
    ),
)]
#[get("/growers/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<Grower>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Grower::from(row)).tagged(&etag))
}
