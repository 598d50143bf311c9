//! `POST /v1/webhooks/{id}/resume`

use actix_web::post;
use actix_web::web::Data;

use super::dto::Webhook;
use super::{get, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Resume a webhook.
///
/// Notices go out again, from where they ended: nothing is left out. 409 when it is active already.
#[utoipa::path(
    tag = "webhooks", operation_id = "resume_webhook", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), IdempotencyKey),
    responses(
        (status = 200, description = "The webhook, active.", body = Webhook, headers(
            ("ETag" = String, description = "New version of the webhook."),
        )),
        StepWithoutBodyErrors,
    ),
)]
#[post("/webhooks/{id}/resume")]
pub(super) async fn resume(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
) -> Result<Written<Webhook>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, &caller, id.0).await?;
            store::resume(tx, &before, app.clock.now()).await?;
            let row = store::find(tx, &caller, id.0).await?;
            let etag = get::etag(&row)?;
            let answer = Answer::ok(Webhook::of(row, app.clock.now())).tagged(&etag);
            Ok(Done::new(Touched::new("webhook", id.0), answer))
        })
        .await
}
