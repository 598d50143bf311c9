//! `POST /v1/webhooks/{id}/test`

use actix_web::post;
use actix_web::web::Data;

use super::deliveries::dto::Delivery;
use super::{deliveries, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::StepWithoutBodyErrors;
use crate::http::{Answer, ApiError, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send a test notice.
///
/// Of the type `webhook.tested`, signed like any other, and tried once. Look at the delivery a moment later to see what
/// came of it. 409 when the webhook is paused or stopped.
#[utoipa::path(
    tag = "webhooks", operation_id = "test_webhook", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), IdempotencyKey),
    responses(
        (status = 201, description = "The delivery, waiting.", body = Delivery, headers(
            ("Location" = String, description = "Path of the delivery."),
        )),
        StepWithoutBodyErrors,
    ),
)]
#[post("/webhooks/{id}/test")]
pub(super) async fn test(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
) -> Result<Written<Delivery>, ApiError> {
    write
        .run(&app, &caller, async |tx| {
            let webhook = store::find(tx, &caller, id.0).await?;
            store::active(&webhook)?;
            let row = deliveries::store::insert_test(tx, &app, &webhook).await?;
            store::hurry(tx, &webhook, app.clock.now(), None).await?;
            let path = format!("/v1/webhooks/{}/deliveries/{}", id.0, row.id);
            let touched = Touched::new("delivery", row.id);
            Ok(Done::new(touched, Answer::created(path, Delivery::of(row, None)?)))
        })
        .await
}
