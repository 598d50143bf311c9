//! The audit trail: one row for each write, in its transaction.

use actix_web::http::Method;
use actix_web::{HttpMessage, HttpRequest};
use sea_orm::{ActiveValue::Set, DatabaseTransaction, EntityTrait};
use serde_json::Value;

use super::actor::Actor;
use super::done::Touched;
use crate::app::AppState;
use crate::entities::audit_events::{ActiveModel, Entity};
use crate::http::ApiError;
use crate::http::body::SentBody;
use crate::http::request_id::RequestId;

/// Who writes by which request.
#[derive(Debug, Clone, Copy)]
pub(super) struct Origin<'a> {
    pub by: &'a Actor,
    pub operation: &'a str,
    pub request: &'a HttpRequest,
}

/// Says who did what.
pub(super) async fn append(
    tx: &DatabaseTransaction,
    app: &AppState,
    origin: Origin<'_>,
    touched: &Touched,
) -> Result<(), ApiError> {
    let Origin { by, operation, request } = origin;
    let request_id = request.extensions().get::<RequestId>().map(|id| id.0.clone());
    let row = ActiveModel {
        practice_id: Set(by.practice_id),
        id: Set(app.ids.next()),
        at: Set(app.clock.now()),
        account_id: Set(by.account_id),
        role: Set(by.role),
        client_id: Set(by.client_id),
        request_id: Set(request_id.unwrap_or_default()),
        operation: Set(operation.to_owned()),
        object_kind: Set(touched.kind.to_owned()),
        object_id: Set(touched.id.clone()),
        grower_id: Set(touched.grower_id),
        changed: Set(changed(request).map(Value::from)),
    };
    Entity::insert(row).exec_without_returning(tx).await?;
    Ok(())
}

/// The names of the members that a change sets, never their values.
fn changed(request: &HttpRequest) -> Option<Vec<String>> {
    if !matches!(*request.method(), Method::PATCH | Method::PUT) {
        return None;
    }
    let body = SentBody::of(request)?;
    match serde_json::from_slice(&body) {
        Ok(Value::Object(members)) => Some(members.into_iter().map(|(name, _)| name).collect()),
        _ => None,
    }
}
