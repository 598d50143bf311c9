//! How long a request may take.

use std::time::Duration;

use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::middleware::Next;
use actix_web::web::Data;
use actix_web::{Error, HttpMessage};
use tokio::time::timeout;

use super::slow_body::paced;
use crate::app::AppState;
use crate::http::error::ApiError;
use crate::http::problem::ProblemCode;

/// What a caller waits before the next try, in seconds.
const AGAIN_AFTER: u64 = 5;

/// Ends a request that takes too long. What it had begun to write is dropped with it, and so rolled
/// back by the database.
pub async fn limit_time<B: MessageBody + 'static>(
    mut request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<B>, Error> {
    let Some(app) = request.app_data::<Data<AppState>>() else { return next.call(request).await };
    let seconds = |count: u16| Duration::from_secs(u64::from(count));
    let limits = &app.settings.limits;
    let (whole, body) = (seconds(limits.request_seconds), seconds(limits.body_seconds));
    let payload = request.take_payload();
    request.set_payload(paced(payload, body));
    timeout(whole, next.call(request)).await.unwrap_or_else(|_elapsed| {
        let detail = "The request took too long and was given up; nothing was changed. Try again.";
        Err(ApiError::try_later(ProblemCode::Unavailable, detail, AGAIN_AFTER).into())
    })
}
