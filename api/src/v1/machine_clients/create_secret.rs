//! `POST /v1/machine-clients/{id}/secrets`

use actix_web::post;
use actix_web::web::Data;

use super::dto::NewClientSecret;
use super::{secrets, store};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Make a further secret.
///
/// A client has at most two, so that a secret can be changed without a stop: make the new one, let
/// the client use it, delete the old one. The secret is shown this once.
#[utoipa::path(
    tag = "machine-clients", operation_id = "create_client_secret",
    security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the client."), IdempotencyKey),
    responses(
        (status = 201, description = "The new secret.", body = NewClientSecret, headers(
            ("Location" = String, description = "Path of the secret."),
        )),
        StepWithoutBodyErrors,
    ),
)]
#[post("/machine-clients/{id}/secrets")]
pub(super) async fn create_secret(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
) -> Result<Written<NewClientSecret>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let found = store::find(tx, caller.practice_id(), id.0).await?;
            let made = secrets::further(tx, &app, &found.client).await?;
            let touched = Touched::new("client_secret", made.id);
            let path = format!("/v1/machine-clients/{}/secrets/{}", id.0, made.id);
            Ok(Done::new(touched, Answer::created(path, made).secret()))
        })
        .await
}
