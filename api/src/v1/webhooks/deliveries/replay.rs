//! `POST /v1/webhooks/{id}/deliveries/{delivery_id}/replay`

use actix_web::web::Data;
use actix_web::{HttpRequest, post};

use super::dto::Delivery;
use super::{get, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::v1::webhooks::store as webhooks;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send a delivery again.
///
/// Now, and as often as a new one, whatever came of it before; under the `webhook-id` that it had. A webhook that is
/// paused or stopped sends it once it is resumed.
#[utoipa::path(
    tag = "webhooks", operation_id = "replay_delivery", security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the webhook."),
        ("delivery_id" = Uuid, Path, description = "Id of the delivery."),
        IdempotencyKey,
    ),
    responses(
        (status = 200, description = "The delivery, waiting.", body = Delivery),
        StepWithoutBodyErrors,
    ),
)]
#[post("/webhooks/{id}/deliveries/{delivery_id}/replay")]
pub(super) async fn replay(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    request: HttpRequest,
) -> Result<Written<Delivery>, ApiError> {
    let delivery_id = get::delivery_id(&request)?;
    write
        .run(&app, &caller, async |tx| {
            let webhook = webhooks::find(tx, &caller, id.0).await?;
            let row = store::find(tx, &webhook, delivery_id).await?;
            webhooks::hurry(tx, &webhook, app.clock.now(), None).await?;
            store::again(tx, &app, &row).await?;
            let row = store::find(tx, &webhook, delivery_id).await?;
            let answer = Answer::ok(get::with_change(tx, row).await?);
            Ok(Done::new(Touched::new("delivery", delivery_id), answer))
        })
        .await
}
