//! `GET /v1/webhooks/{id}/deliveries/{delivery_id}`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};
use uuid::Uuid;

use super::dto::Delivery;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::entities::deliveries::Model;
use crate::http::id::parse_id;
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::v1::webhooks::store as webhooks;

/// Get a delivery.
///
/// How often it was tried, what the receiver answered last, and when it is tried next.
#[utoipa::path(
    tag = "webhooks", operation_id = "get_delivery", security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the webhook."),
        ("delivery_id" = Uuid, Path, description = "Id of the delivery."),
    ),
    responses((status = 200, description = "The delivery.", body = Delivery), GetErrors),
)]
#[get("/webhooks/{id}/deliveries/{delivery_id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
    request: HttpRequest,
) -> Result<Answer<Delivery>, ApiError> {
    let delivery_id = delivery_id(&request)?;
    let webhook = webhooks::find(&app.db, &caller, id.0).await?;
    let row = store::find(&app.db, &webhook, delivery_id).await?;
    Ok(Answer::ok(with_change(&app.db, row).await?))
}

/// The id of the delivery in the path.
pub(super) fn delivery_id(request: &HttpRequest) -> Result<Uuid, ApiError> {
    let id = request.match_info().get("delivery_id").and_then(parse_id);
    id.ok_or_else(|| ApiError::not_found("delivery"))
}

/// The delivery with the change that it tells of.
pub(super) async fn with_change(
    db: &impl sea_orm::ConnectionTrait,
    row: Model,
) -> Result<Delivery, ApiError> {
    let rows = store::with_changes(db, row.practice_id, vec![row]).await?;
    rows.into_iter().next().ok_or_else(|| ApiError::not_found("delivery"))
}
