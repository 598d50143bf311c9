//! Taking jobs, so that nobody else takes them meanwhile.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, LockBehavior, LockType};
use sea_orm::{
    ActiveEnum, ColumnTrait, DatabaseConnection, EntityTrait, QueryFilter, QueryOrder, QuerySelect,
    Select,
};
use uuid::Uuid;

use crate::db;
use crate::entities::jobs::{Column, Entity, Model, Status};
use crate::http::ApiError;
use crate::workers::new_lease;

/// How long a lease lasts. More than a handler may take, so that it never outlives its lease.
pub const LEASE: TimeDelta = TimeDelta::minutes(5);
/// How often a job is tried.
pub const MOST_ATTEMPTS: i32 = 10;

/// A job that a worker holds.
#[derive(Debug, Clone)]
pub struct Leased {
    /// The row as it was taken.
    pub job: Model,
    /// The worker's hold on it.
    pub lease: Uuid,
}

/// The jobs whose time has come, a lease that ran out included.
fn due(now: DateTime<Utc>) -> Select<Entity> {
    Entity::find().filter(Column::Status.eq(Status::Waiting)).filter(Column::RunAt.lte(now))
}

/// Whether there is anything to take; it only reads.
///
/// # Errors
/// When the database fails.
pub async fn any_due(db: &DatabaseConnection, now: DateTime<Utc>) -> Result<bool, ApiError> {
    let first: Option<Uuid> =
        due(now).select_only().column(Column::Id).limit(1).into_tuple().one(db).await?;
    Ok(first.is_some())
}

/// Takes up to `most` jobs, the longest due first. What was tried too often is dead.
///
/// # Errors
/// When the database fails.
pub async fn lease(
    db: &DatabaseConnection,
    now: DateTime<Utc>,
    most: u64,
) -> Result<Vec<Leased>, ApiError> {
    let tx = db::begin(db).await?;
    let rows = due(now)
        .order_by_asc(Column::RunAt)
        .order_by_asc(Column::Id)
        .limit(most)
        .lock_with_behavior(LockType::Update, LockBehavior::SkipLocked)
        .all(&tx)
        .await?;
    let mut leased = Vec::with_capacity(rows.len());
    for mut job in rows {
        let change = Entity::update_many()
            .filter(Column::PracticeId.eq(job.practice_id))
            .filter(Column::Id.eq(job.id));
        if job.attempts >= MOST_ATTEMPTS {
            let why = job.last_error.as_deref().unwrap_or("each worker ended in the middle of it");
            change
                .col_expr(Column::Status, Expr::value(Status::Dead.to_value()))
                .col_expr(Column::LastError, Expr::value(why))
                .col_expr(Column::FinishedAt, Expr::value(now))
                .col_expr(Column::Lease, Expr::value(None::<Uuid>))
                .exec(&tx)
                .await?;
            continue;
        }
        let lease = new_lease();
        change
            .col_expr(Column::Lease, Expr::value(lease))
            .col_expr(Column::RunAt, Expr::value(now + LEASE))
            .col_expr(Column::Attempts, Expr::col(Column::Attempts).add(1))
            .exec(&tx)
            .await?;
        job.attempts = job.attempts.saturating_add(1);
        leased.push(Leased { job, lease });
    }
    tx.commit().await?;
    Ok(leased)
}
