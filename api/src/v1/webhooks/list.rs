//! `GET /v1/webhooks`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Webhook, WebhookFilter, WebhookPage};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List webhooks.
///
/// Oldest first, in pages, without any secret. A records system sees those that it made.
#[utoipa::path(
    tag = "webhooks", operation_id = "list_webhooks",
    security(("bearer" = ["connect"])), params(WebhookFilter),
    responses(
        (status = 200, description = "A page of webhooks.", body = WebhookPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/webhooks")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    query: Query<WebhookFilter>,
    request: HttpRequest,
) -> Result<Answer<WebhookPage>, ApiError> {
    let WebhookFilter { limit, cursor } = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::parse(walk, limit, cursor.as_deref())?;
    let (rows, next_cursor) = store::page(&app.db, &caller, &page).await?;
    let now = app.clock.now();
    let items = rows.into_iter().map(|row| Webhook::of(row, now)).collect();
    Ok(Answer::page(WebhookPage { items, next_cursor: next_cursor.clone() }, next_cursor))
}
