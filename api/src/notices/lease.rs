//! Which webhooks have something to do, and who is at it.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{
    ColumnTrait, Condition, ConnectionTrait, DatabaseConnection, EntityTrait, QueryFilter,
    QueryOrder, QuerySelect, UpdateMany,
};
use uuid::Uuid;

use crate::entities::change_counters;
use crate::entities::webhooks::{Column, Entity, Model, WebhookStatus};
use crate::http::ApiError;
use crate::workers::new_lease;

/// How long a process holds a webhook after it last said so: much longer than what it does in between.
pub const LEASE: TimeDelta = TimeDelta::minutes(3);

/// A webhook that this process holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    pub(super) practice_id: Uuid,
    pub(super) webhook_id: Uuid,
    lease: Uuid,
}

/// The webhooks that have something to do and that nobody is at, the longest due first.
pub(super) async fn due(
    db: &DatabaseConnection,
    now: DateTime<Utc>,
    most: u64,
) -> Result<Vec<(Uuid, Uuid)>, ApiError> {
    use change_counters::{Column as Counted, Entity as Counters};
    let passed = |column: Column| Condition::any().add(column.is_null()).add(column.lte(now));
    let behind = Query::select()
        .expr(Expr::val(1))
        .from(Counters)
        .and_where(Expr::col((Counters, Counted::PracticeId)).equals((Entity, Column::PracticeId)))
        .and_where(Expr::col((Counters, Counted::Position)).gt(Expr::col((Entity, Column::ReadTo))))
        .to_owned();
    let found = Entity::find()
        .filter(Column::Status.eq(WebhookStatus::Active))
        .filter(passed(Column::LeasedUntil))
        .filter(passed(Column::HeldUntil))
        .filter(Condition::any().add(Column::DueAt.lte(now)).add(Expr::exists(behind)))
        .select_only()
        .columns([Column::PracticeId, Column::Id])
        .order_by_asc(Column::DueAt)
        .order_by_asc(Column::Id)
        .limit(most)
        .into_tuple()
        .all(db)
        .await?;
    Ok(found)
}

/// Takes a webhook, unless somebody was faster.
pub(super) async fn take(
    db: &DatabaseConnection,
    (practice_id, webhook_id): (Uuid, Uuid),
    now: DateTime<Utc>,
) -> Result<Option<Held>, ApiError> {
    let lease = new_lease();
    let free =
        Condition::any().add(Column::LeasedUntil.is_null()).add(Column::LeasedUntil.lte(now));
    let taken = Entity::update_many()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::Id.eq(webhook_id))
        .filter(Column::Status.eq(WebhookStatus::Active))
        .filter(free)
        .col_expr(Column::Lease, Expr::value(lease))
        .col_expr(Column::LeasedUntil, Expr::value(now + LEASE))
        .exec(db)
        .await?;
    Ok((taken.rows_affected == 1).then_some(Held { practice_id, webhook_id, lease }))
}

impl Held {
    /// A change of the row, if we hold it still.
    pub(super) fn ours(&self) -> UpdateMany<Entity> {
        Entity::update_many()
            .filter(Column::PracticeId.eq(self.practice_id))
            .filter(Column::Id.eq(self.webhook_id))
            .filter(Column::Lease.eq(self.lease))
    }

    /// Holds it for longer, and its row until the transaction ends; says whether we held it still.
    pub(super) async fn keep(
        &self,
        tx: &impl ConnectionTrait,
        now: DateTime<Utc>,
    ) -> Result<bool, ApiError> {
        let until = Expr::value(now + LEASE);
        let kept = self.ours().col_expr(Column::LeasedUntil, until).exec(tx).await?;
        Ok(kept.rows_affected == 1)
    }

    /// The row as it is now, if we hold it still and notices go out.
    pub(super) async fn row(&self, db: &impl ConnectionTrait) -> Result<Option<Model>, ApiError> {
        let found = Entity::find_by_id((self.practice_id, self.webhook_id)).one(db).await?;
        Ok(found.filter(|row| row.lease == Some(self.lease) && row.status == WebhookStatus::Active))
    }
}
