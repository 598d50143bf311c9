//! `POST /v1/webhooks/{id}/replay-dead`

use actix_web::post;
use actix_web::web::Data;

use super::dto::Replay;
use super::{deliveries, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send again all that was given up.
///
/// As often as new notices, each under the `webhook-id` that it had. Test notices are left out. A webhook that is
/// paused or stopped sends it once it is resumed.
#[utoipa::path(
    tag = "webhooks", operation_id = "replay_dead_deliveries", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), IdempotencyKey),
    responses(
        (status = 200, description = "What is sent again.", body = Replay), StepWithoutBodyErrors,
    ),
)]
#[post("/webhooks/{id}/replay-dead")]
pub(super) async fn replay_dead(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
) -> Result<Written<Replay>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let webhook = store::find(tx, &caller, id.0).await?;
            store::hurry(tx, &webhook, app.clock.now(), None).await?;
            let again = deliveries::store::again_dead(tx, &app, &webhook).await?;
            let answer = Answer::ok(Replay { again, read_to: webhook.read_to });
            Ok(Done::new(Touched::new("webhook", id.0), answer))
        })
        .await
}
