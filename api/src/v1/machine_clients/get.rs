//! `GET /v1/machine-clients/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::MachineClient;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a machine client.
///
/// Without its secrets.
#[utoipa::path(
    tag = "machine-clients", operation_id = "get_machine_client",
    security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the client.")),
    responses(
        (status = 200, description = "The client.", body = MachineClient, headers(
            ("ETag" = String, description = "Version of the client."),
        )),
        GetErrors,
    ),
)]
#[get("/machine-clients/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    id: Id,
) -> Result<Answer<MachineClient>, ApiError> {
    let found = store::find(&app.db, caller.practice_id(), id.0).await?;
    let etag = ETag::of(found.client.version);
    Ok(Answer::ok(MachineClient::from(found)).tagged(&etag))
}
