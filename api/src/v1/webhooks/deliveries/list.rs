//! `GET /v1/webhooks/{id}/deliveries`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{DeliveryFilter, DeliveryPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListUnderErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::webhooks::store as webhooks;

/// List the deliveries of a webhook.
///
/// Oldest first. With `status=dead`, what was given up; with `status=waiting`, what is still to go out.
#[utoipa::path(
    tag = "webhooks", operation_id = "list_deliveries", security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the webhook."), DeliveryFilter),
    responses(
        (status = 200, description = "A page of deliveries.", body = DeliveryPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListUnderErrors,
    ),
)]
#[get("/webhooks/{id}/deliveries")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    id: Id,
    query: Query<DeliveryFilter>,
    request: HttpRequest,
) -> Result<Answer<DeliveryPage>, ApiError> {
    let DeliveryFilter { status, limit, cursor } = query.0;
    let webhook = webhooks::find(&app.db, &caller, id.0).await?;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let (items, next_cursor) = store::page(&app.db, &webhook, status, &page).await?;
    Ok(Answer::page(DeliveryPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
