//! `GET /v1/machine-clients/{id}/secrets`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{ClientSecret, ClientSecretList};
use super::{secrets, store};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id};

/// List the secrets of a machine client.
///
/// When each was made and last used; the secrets themselves are not kept.
#[utoipa::path(
    tag = "machine-clients", operation_id = "list_client_secrets",
    security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the client.")),
    responses(
        (status = 200, description = "The secrets.", body = ClientSecretList),
        ListUnderErrors,
    ),
)]
#[get("/machine-clients/{id}/secrets")]
pub(super) async fn list_secrets(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    id: Id,
) -> Result<Answer<ClientSecretList>, ApiError> {
    let found = store::find(&app.db, caller.practice_id(), id.0).await?;
    let rows = secrets::of_client(&app.db, &found.client).await?;
    Ok(Answer::ok(ClientSecretList { items: rows.into_iter().map(ClientSecret::from).collect() }))
}
