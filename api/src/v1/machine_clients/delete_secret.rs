//! `DELETE /v1/machine-clients/{id}/secrets/{secret_id}`

use actix_web::web::Data;
use actix_web::{HttpRequest, delete};

use super::{secrets, store};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::id::parse_id;
use crate::http::responses::DeleteErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Delete a secret of a machine client.
///
/// From now on no token is got with it. Tokens that were got with it are good until they expire;
/// disable the client to stop them at once.
#[utoipa::path(
    tag = "machine-clients", operation_id = "delete_client_secret",
    security(("bearer" = ["manage"])),
    params(
        ("id" = Uuid, Path, description = "Id of the client."),
        ("secret_id" = Uuid, Path, description = "Id of the secret."),
        IdempotencyKey,
    ),
    responses((status = 204, description = "The secret is deleted."), DeleteErrors),
)]
#[delete("/machine-clients/{id}/secrets/{secret_id}")]
pub(super) async fn delete_secret(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
    request: HttpRequest,
) -> Result<Written<()>, ApiError> {
    let secret_id = request.match_info().get("secret_id").and_then(parse_id);
    let secret_id = secret_id.ok_or_else(|| ApiError::not_found("secret"))?;
    write
        .run(&app, &caller, async |tx| {
            let found = store::find(tx, caller.practice_id(), id.0).await?;
            secrets::delete(tx, &app, &found.client, secret_id).await?;
            Ok(Done::new(Touched::new("client_secret", secret_id), Answer::done()))
        })
        .await
}
