//! `PATCH /v1/webhooks/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Webhook, WebhookPatch};
use super::{get, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a webhook.
///
/// What is absent stays. It holds for notices that wait as well; other types hold for changes that were not read
/// yet. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "webhooks", operation_id = "update_webhook", security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the webhook."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = WebhookPatch, description = "What changes."),
    responses(
        (status = 200, description = "The webhook as it is now.", body = Webhook, headers(
            ("ETag" = String, description = "New version of the webhook."),
        )),
        UpdateErrors,
    ),
)]
#[patch("/webhooks/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<WebhookPatch>,
) -> Result<Written<Webhook>, ApiError> {
    let change = body.into_inner();
    write
        .run(&app, &caller, async |tx| {
            let before = store::find(tx, &caller, id.0).await?;
            let expected = if_match.needed()?;
            let change = change.parse(&app.outgoing)?;
            store::update(tx, &before, &expected, app.clock.now(), change).await?;
            let row = store::find(tx, &caller, id.0).await?;
            let etag = get::etag(&row)?;
            let answer = Answer::ok(Webhook::of(row, app.clock.now())).tagged(&etag);
            Ok(Done::new(Touched::new("webhook", id.0), answer))
        })
        .await
}
