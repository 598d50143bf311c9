//! Deliveries in the database.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveEnum, ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait,
    QueryFilter, UpdateMany,
};
use uuid::Uuid;

use super::dto::Delivery;
use crate::app::AppState;
use crate::changes::Recorded;
use crate::entities::deliveries::{ActiveModel, Column, DeliveryStatus, Entity, Model};
use crate::entities::{changes, webhooks};
use crate::http::ApiError;
use crate::http::page::PageRequest;

/// Finds a delivery of a webhook.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    webhook: &webhooks::Model,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = Entity::find_by_id((webhook.practice_id, id))
        .filter(Column::WebhookId.eq(webhook.id))
        .one(db)
        .await?;
    found.ok_or_else(|| ApiError::not_found("delivery"))
}

/// A page of the deliveries of a webhook.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    webhook: &webhooks::Model,
    status: Option<DeliveryStatus>,
    page: &PageRequest,
) -> Result<(Vec<Delivery>, Option<String>), ApiError> {
    let mut rows = Entity::find()
        .filter(Column::PracticeId.eq(webhook.practice_id))
        .filter(Column::WebhookId.eq(webhook.id));
    if let Some(status) = status {
        rows = rows.filter(Column::Status.eq(status));
    }
    let (rows, next_cursor) = page.cut(page.of(rows, Column::Id).all(db).await?, |row| row.id);
    Ok((with_changes(db, webhook.practice_id, rows).await?, next_cursor))
}

/// Deliveries with the changes that they tell of.
pub(super) async fn with_changes(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    rows: Vec<Model>,
) -> Result<Vec<Delivery>, ApiError> {
    let told: HashMap<i64, Recorded> = changes::Entity::find()
        .filter(changes::Column::PracticeId.eq(practice_id))
        .filter(changes::Column::Position.is_in(rows.iter().filter_map(|row| row.position)))
        .all(db)
        .await?
        .into_iter()
        .map(|row| Recorded::try_from(row).map(|told| (told.position, told)))
        .collect::<Result<_, _>>()?;
    rows.into_iter()
        .map(|row| {
            let change = row.position.and_then(|position| told.get(&position));
            Delivery::of(row, change)
        })
        .collect()
}

/// Stores a test notice.
pub(in crate::v1::webhooks) async fn insert_test(
    db: &impl ConnectionTrait,
    app: &AppState,
    webhook: &webhooks::Model,
) -> Result<Model, ApiError> {
    let now = app.clock.now();
    let row = ActiveModel {
        practice_id: Set(webhook.practice_id),
        id: Set(app.ids.next()),
        webhook_id: Set(webhook.id),
        position: Set(None),
        status: Set(DeliveryStatus::Waiting),
        attempts: Set(0),
        due_at: Set(now),
        last_status: Set(None),
        last_error: Set(None),
        created_at: Set(now),
        finished_at: Set(None),
    };
    Ok(row.insert(db).await?)
}

/// Has one sent again, whatever came of it.
pub(super) async fn again(
    db: &impl ConnectionTrait,
    app: &AppState,
    row: &Model,
) -> Result<(), ApiError> {
    waiting_again(row.practice_id, row.webhook_id, app.clock.now())
        .filter(Column::Id.eq(row.id))
        .exec(db)
        .await?;
    Ok(())
}

/// Has all sent again that tell of changes after a position and came to an end.
pub(in crate::v1::webhooks) async fn again_after(
    db: &impl ConnectionTrait,
    app: &AppState,
    webhook: &webhooks::Model,
    after: i64,
) -> Result<u64, ApiError> {
    let again = waiting_again(webhook.practice_id, webhook.id, app.clock.now())
        .filter(Column::Status.ne(DeliveryStatus::Waiting))
        .filter(Column::Position.gt(after));
    Ok(again.exec(db).await?.rows_affected)
}

/// Has all sent again that were given up.
pub(in crate::v1::webhooks) async fn again_dead(
    db: &impl ConnectionTrait,
    app: &AppState,
    webhook: &webhooks::Model,
) -> Result<u64, ApiError> {
    let again = waiting_again(webhook.practice_id, webhook.id, app.clock.now())
        .filter(Column::Status.eq(DeliveryStatus::Dead))
        .filter(Column::Position.is_not_null());
    Ok(again.exec(db).await?.rows_affected)
}

fn waiting_again(practice_id: Uuid, webhook_id: Uuid, now: DateTime<Utc>) -> UpdateMany<Entity> {
    Entity::update_many()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::WebhookId.eq(webhook_id))
        .col_expr(Column::Status, Expr::value(DeliveryStatus::Waiting.to_value()))
        .col_expr(Column::Attempts, Expr::value(0))
        .col_expr(Column::DueAt, Expr::value(now))
        .col_expr(Column::FinishedAt, Expr::value(None::<DateTime<Utc>>))
}
