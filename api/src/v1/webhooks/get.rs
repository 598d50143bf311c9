//! `GET /v1/webhooks/{id}`

use actix_web::get;
use actix_web::web::Data;

use super::dto::Webhook;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::entities::webhooks::Model;
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag, Id};

/// Get a webhook.
///
/// How far it has read, and whether notices get through. Its secret is not shown again.
#[utoipa::path(
    tag = "webhooks", operation_id = "get_webhook", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook.")),
    responses(
        (status = 200, description = "The webhook.", body = Webhook, headers(
            ("ETag" = String, description = "Version of the webhook."),
        )),
        GetErrors,
    ),
)]
#[get("/webhooks/{id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
) -> Result<Answer<Webhook>, ApiError> {
    let row = store::find(&app.db, &caller, id.0).await?;
    let etag = etag(&row)?;
    Ok(Answer::ok(Webhook::of(row, app.clock.now())).tagged(&etag))
}

/// Version, and how far delivering is, which changes without a new version.
pub(super) fn etag(row: &Model) -> Result<ETag, ApiError> {
    ETag::of(row.version).and(&(row.read_to, row.held_until, row.failing_since))
}
