//! `POST /v1/webhooks`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{NewWebhook, Webhook, WebhookIn};
use super::{get, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::WebhookErrors;
use crate::http::{Answer, ApiError, Body};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Have changes told to an address.
///
/// What changes is posted there, signed as Standard Webhooks 1.0.0 has it; the answer holds the secret for
/// checking, which is not shown again. A notice holds ids: read the object by your own token. It arrives at least once,
/// each time with the same `webhook-id`; answer with 2xx, and leave out what you know. What fails is tried
/// again for three days.
#[utoipa::path(
    tag = "webhooks", operation_id = "create_webhook",
    security(("bearer" = ["connect"])), params(IdempotencyKey),
    request_body(content = WebhookIn, description = "Where to, and what."),
    responses(
        (status = 201, description = "The webhook and its secret.", body = NewWebhook, headers(
            ("Location" = String, description = "Path of the webhook."),
            ("ETag" = String, description = "Version of the webhook."),
        )),
        WebhookErrors,
    ),
)]
#[post("/webhooks")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    body: Body<WebhookIn>,
) -> Result<Written<NewWebhook>, ApiError> {
    let new = body.into_inner().parse(&app.outgoing)?;
    write
        .run(&app, &caller, async |tx| {
            let (row, secret) = store::insert(tx, &app, &caller, new).await?;
            let touched = Touched::new("webhook", row.id);
            let (path, etag) = (format!("/v1/webhooks/{}", row.id), get::etag(&row)?);
            let made = NewWebhook { webhook: Webhook::of(row, app.clock.now()), secret };
            Ok(Done::new(touched, Answer::created(path, made).tagged(&etag).secret()))
        })
        .await
}
