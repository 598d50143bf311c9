//! `POST /v1/webhooks/{id}/pause`

use actix_web::post;
use actix_web::web::Data;

use super::dto::Webhook;
use super::{get, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Pause a webhook.
///
/// No notice goes out; changes wait. 409 when none goes out anyway.
#[utoipa::path(
    tag = "webhooks", operation_id = "pause_webhook", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), IdempotencyKey),
    responses(
        (status = 200, description = "The webhook, paused.", body = Webhook, headers(
            ("ETag" = String, description = "New version of the webhook."),
        )),
        StepWithoutBodyErrors,
    ),
)]
#[post("/webhooks/{id}/pause")]
pub(super) async fn pause(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
) -> Result<Written<Webhook>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, &caller, id.0).await?;
            store::pause(tx, &before, app.clock.now()).await?;
            let row = store::find(tx, &caller, id.0).await?;
            let etag = get::etag(&row)?;
            let answer = Answer::ok(Webhook::of(row, app.clock.now())).tagged(&etag);
            Ok(Done::new(Touched::new("webhook", id.0), answer))
        })
        .await
}
