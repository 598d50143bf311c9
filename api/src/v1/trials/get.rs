//! `GET /v1/trials/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Trial;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a trial.
///
/// What is compared, and what lies where. What was found on the plots is at `…/plots`.
#[utoipa::path(
    tag = "trials", operation_id = "get_trial", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the trial.")),
    responses(
        (status = 200, description = "The trial.", body = Trial, headers(
            ("ETag" = String, description = "Version of the trial."),
        )),
        GetErrors,
    ),
)]
#[get("/trials/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<Trial>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let etag = ETag::of(row.version);
    Ok(Answer::ok(Trial::of(row)?).tagged(&etag))
}
