//! Deleting what came to its end long ago.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{ColumnTrait, Condition, DatabaseConnection, EntityTrait, QueryFilter};

use crate::entities::deliveries::{Column, DeliveryStatus, Entity};
use crate::http::ApiError;

/// How long it is kept that a notice arrived.
pub(crate) const DELIVERED_KEPT_FOR: TimeDelta = TimeDelta::days(30);
/// How long a notice is kept that was given up.
pub(crate) const DEAD_KEPT_FOR: TimeDelta = TimeDelta::days(90);

/// Deletes what came to its end long ago.
pub(super) async fn sweep(db: &DatabaseConnection, now: DateTime<Utc>) -> Result<u64, ApiError> {
    let ended = |status: DeliveryStatus, kept: TimeDelta| {
        Condition::all().add(Column::Status.eq(status)).add(Column::FinishedAt.lt(now - kept))
    };
    let long_ago = Condition::any()
        .add(ended(DeliveryStatus::Delivered, DELIVERED_KEPT_FOR))
        .add(ended(DeliveryStatus::Dead, DEAD_KEPT_FOR));
    Ok(Entity::delete_many().filter(long_ago).exec(db).await?.rows_affected)
}
