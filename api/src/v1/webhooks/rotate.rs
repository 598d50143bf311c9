//! `POST /v1/webhooks/{id}/rotation`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{RotationIn, WebhookSecret};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::RotationErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change the secret of a webhook.
///
/// The new secret is shown this once. Until the overlap ends both sign each notice (`webhook-signature` then holds
/// two), so that the receiver can change to the new one without a stop. A second change in that time
/// drops the oldest.
#[utoipa::path(
    tag = "webhooks", operation_id = "rotate_webhook_secret", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), IdempotencyKey),
    request_body(content = RotationIn, description = "How long both sign."),
    responses(
        (status = 200, description = "The new secret.", body = WebhookSecret), RotationErrors,
    ),
)]
#[post("/webhooks/{id}/rotation")]
pub(super) async fn rotate(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    body: Body<RotationIn>,
) -> Result<Written<WebhookSecret>, ApiError> {
    let hours = body.into_inner().parse()?;
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, &caller, id.0).await?;
            let (secret, old_secret_until) = store::rotate(tx, &app, &before, hours).await?;
            let answer = Answer::ok(WebhookSecret { secret, old_secret_until });
            Ok(Done::new(Touched::new("webhook", id.0), answer.secret()))
        })
        .await
}
