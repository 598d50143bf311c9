//! `POST /v1/webhooks/{id}/replay`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Replay, ReplayIn};
use super::{deliveries, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::MarkErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Tell all changes after a position again.
///
/// For a receiver that lost something. What arrived before and what was given up is sent again, each under the
/// `webhook-id` that it had. A webhook that is paused or stopped sends it once it is resumed.
#[utoipa::path(
    tag = "webhooks", operation_id = "replay_changes", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), IdempotencyKey),
    request_body(content = ReplayIn, description = "From where."),
    responses((status = 200, description = "What is sent again.", body = Replay), MarkErrors),
)]
#[post("/webhooks/{id}/replay")]
pub(super) async fn replay(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    body: Body<ReplayIn>,
) -> Result<Written<Replay>, ApiError> {
    let ReplayIn { after } = body.into_inner();
    write
        .run(&app, &caller, async |tx| {
            let webhook = store::find(tx, &caller, id.0).await?;
            let read_to = store::replay_after(tx, &webhook, after).await?;
            store::hurry(tx, &webhook, app.clock.now(), Some(read_to)).await?;
            let again = deliveries::store::again_after(tx, &app, &webhook, after).await?;
            let touched = Touched::new("webhook", id.0);
            Ok(Done::new(touched, Answer::ok(Replay { again, read_to })))
        })
        .await
}
