//! Taking a run, so that nobody else works at it meanwhile.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Alias, Expr, ExprTrait, Query};
use sea_orm::{
    ActiveEnum, ColumnTrait, ConnectionTrait, DatabaseConnection, EntityTrait, QueryFilter,
    QueryOrder, QuerySelect, UpdateMany,
};
use serde_json::Value;
use uuid::Uuid;

use crate::entities::records_runs::{Column, Entity, Model, Status};
use crate::http::ApiError;
use crate::workers::new_lease;

/// How long a lease lasts; whoever has it keeps renewing it.
pub const LEASE: TimeDelta = TimeDelta::minutes(2);
/// How often a run is begun, where each time the process ended in the middle of it.
pub const MOST_ATTEMPTS: i32 = 3;
/// Runs that are looked at in one go.
const LOOKED_AT: u64 = 8;

/// A run that somebody works at.
#[derive(Debug, Clone)]
pub struct Held {
    /// The row as it was taken.
    pub(super) run: Model,
    lease: Uuid,
}

/// How a run ends.
#[derive(Debug)]
pub(super) struct End {
    /// Done or failed.
    pub(super) status: Status,
    /// What became of the records, by kind.
    pub(super) counts: Option<Value>,
    /// What is kept for people.
    pub(super) report: Value,
}

/// Takes the run that is due longest, of a practice of which nobody works at another: one that has many links, or slow
/// ones, holds up itself only.
///
/// # Errors
/// When the database fails.
pub(super) async fn take(
    db: &DatabaseConnection,
    now: DateTime<Utc>,
) -> Result<Option<Held>, ApiError> {
    let another = Alias::new("another");
    let of_another = |column: Column| Expr::col((another.clone(), column));
    let under_way = Query::select()
        .expr(Expr::val(1))
        .from_as(Entity, another.clone())
        .and_where(of_another(Column::PracticeId).equals((Entity, Column::PracticeId)))
        .and_where(of_another(Column::FinishedAt).is_null())
        .and_where(of_another(Column::Lease).is_not_null())
        .and_where(of_another(Column::DueAt).gt(now))
        .to_owned();
    let due = Entity::find()
        .filter(Column::FinishedAt.is_null())
        .filter(Column::DueAt.lte(now))
        .filter(Expr::exists(under_way).not())
        .order_by_asc(Column::DueAt)
        .order_by_asc(Column::Id)
        .limit(LOOKED_AT);
    for mut run in due.all(db).await? {
        let lease = new_lease();
        let attempts = run.attempts.saturating_add(1);
        // Whoever was faster has changed `due_at`.
        let taken = Entity::update_many()
            .filter(Column::PracticeId.eq(run.practice_id))
            .filter(Column::Id.eq(run.id))
            .filter(Column::FinishedAt.is_null())
            .filter(Column::Attempts.eq(run.attempts))
            .filter(Column::DueAt.eq(run.due_at))
            .col_expr(Column::Lease, Expr::value(lease))
            .col_expr(Column::DueAt, Expr::value(now + LEASE))
            .col_expr(Column::Attempts, Expr::value(attempts))
            .col_expr(Column::Status, Expr::value(Status::Running.to_value()))
            .col_expr(Column::StartedAt, Expr::value(now))
            .exec(db)
            .await?;
        if taken.rows_affected == 1 {
            run.attempts = attempts;
            return Ok(Some(Held { run, lease }));
        }
    }
    Ok(None)
}

impl Held {
    /// Says that somebody still works at it. False when it is not ours any more.
    ///
    /// # Errors
    /// When the database fails.
    pub(super) async fn renew(
        &self,
        db: &impl ConnectionTrait,
        now: DateTime<Utc>,
    ) -> Result<bool, ApiError> {
        let renewed = self.ours().col_expr(Column::DueAt, Expr::value(now + LEASE));
        Ok(renewed.exec(db).await?.rows_affected == 1)
    }

    /// Says how far it is. False when it is not ours any more.
    ///
    /// # Errors
    /// When the database fails.
    pub(super) async fn note(
        &self,
        db: &impl ConnectionTrait,
        (pages, records): (u32, usize),
    ) -> Result<bool, ApiError> {
        let noted = counted(self.ours(), (pages, records));
        Ok(noted.exec(db).await?.rows_affected == 1)
    }

    /// Ends it. False when it is not ours any more: whoever called rolls back.
    ///
    /// # Errors
    /// When the database fails.
    pub(super) async fn end(
        &self,
        db: &impl ConnectionTrait,
        now: DateTime<Utc>,
        end: End,
        came: (u32, usize),
    ) -> Result<bool, ApiError> {
        let End { status, counts, report } = end;
        let ended = counted(self.ours(), came)
            .col_expr(Column::Status, Expr::value(status.to_value()))
            .col_expr(Column::FinishedAt, Expr::value(now))
            .col_expr(Column::Lease, Expr::value(None::<Uuid>))
            .col_expr(Column::Counts, Expr::value(counts))
            .col_expr(Column::Report, Expr::value(report));
        Ok(ended.exec(db).await?.rows_affected == 1)
    }

    /// The row, if the lease on it still holds.
    fn ours(&self) -> UpdateMany<Entity> {
        Entity::update_many()
            .filter(Column::PracticeId.eq(self.run.practice_id))
            .filter(Column::Id.eq(self.run.id))
            .filter(Column::FinishedAt.is_null())
            .filter(Column::Lease.eq(self.lease))
    }
}

/// With how much came.
fn counted(change: UpdateMany<Entity>, (pages, records): (u32, usize)) -> UpdateMany<Entity> {
    change
        .col_expr(Column::Pages, Expr::value(i32::try_from(pages).unwrap_or(i32::MAX)))
        .col_expr(Column::Records, Expr::value(i32::try_from(records).unwrap_or(i32::MAX)))
}
