//! Which deliveries of a webhook are due, and when something is due next.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Order;
use sea_orm::{
    ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect, Select,
};

use crate::entities::deliveries::{Column, DeliveryStatus, Entity, Model};
use crate::entities::webhooks;
use crate::http::ApiError;

/// Deliveries that are read, and stored again, at once.
pub(super) const AT_ONCE: u64 = 256;

fn waiting(webhook: &webhooks::Model) -> Select<Entity> {
    Entity::find()
        .filter(Column::PracticeId.eq(webhook.practice_id))
        .filter(Column::WebhookId.eq(webhook.id))
        .filter(Column::Status.eq(DeliveryStatus::Waiting))
}

/// Those that tell of changes, in their order.
fn in_line(webhook: &webhooks::Model) -> Select<Entity> {
    waiting(webhook).filter(Column::Position.is_not_null()).order_by(Column::Position, Order::Asc)
}

/// The deliveries that are due. Of an ordered webhook one that is not due yet holds back those behind it; test notices
/// stand in no line.
pub(super) async fn due(
    db: &impl ConnectionTrait,
    webhook: &webhooks::Model,
    now: DateTime<Utc>,
) -> Result<Vec<Model>, ApiError> {
    let ready = |rows: Select<Entity>| {
        rows.filter(Column::DueAt.lte(now))
            .order_by_asc(Column::DueAt)
            .order_by_asc(Column::Id)
            .limit(AT_ONCE)
    };
    if !webhook.ordered {
        return Ok(ready(waiting(webhook)).all(db).await?);
    }
    let mut rows = ready(waiting(webhook).filter(Column::Position.is_null())).all(db).await?;
    let line = in_line(webhook).limit(AT_ONCE).all(db).await?;
    rows.extend(line.into_iter().take_while(|row| row.due_at <= now));
    Ok(rows)
}

/// When something is due next; none when nothing waits.
pub(super) async fn next(
    db: &impl ConnectionTrait,
    webhook: &webhooks::Model,
) -> Result<Option<DateTime<Utc>>, ApiError> {
    let soonest = async |rows: Select<Entity>| -> Result<Option<DateTime<Utc>>, ApiError> {
        let first = rows.select_only().column_as(Column::DueAt.min(), "next");
        let first: Option<Option<DateTime<Utc>>> = first.into_tuple().one(db).await?;
        Ok(first.flatten())
    };
    if !webhook.ordered {
        return soonest(waiting(webhook)).await;
    }
    let test = soonest(waiting(webhook).filter(Column::Position.is_null())).await?;
    let head = in_line(webhook).limit(1).one(db).await?.map(|row| row.due_at);
    Ok(test.into_iter().chain(head).min())
}
