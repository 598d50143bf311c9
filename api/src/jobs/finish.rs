//! Marking jobs: done, to be tried again, dead.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{ActiveEnum, ColumnTrait, DatabaseConnection, EntityTrait, QueryFilter, UpdateMany};
use uuid::Uuid;

use super::backoff::wait_after;
use super::lease::{Leased, MOST_ATTEMPTS};
use super::work::Failure;
use crate::entities::jobs::{Column, Entity, Status};
use crate::http::ApiError;

/// How long it is kept that something was done.
const DONE_KEPT_FOR: TimeDelta = TimeDelta::days(7);
/// Longest error that is kept, in characters.
const LONGEST_ERROR: usize = 500;

/// Marks a job done. Says whether the lease still held: otherwise somebody else has it, or had it.
///
/// # Errors
/// When the database fails.
pub async fn finish(
    db: &DatabaseConnection,
    leased: &Leased,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let done = ours(leased)
        .col_expr(Column::Status, Expr::value(Status::Done.to_value()))
        .col_expr(Column::FinishedAt, Expr::value(now))
        .col_expr(Column::LastError, Expr::value(None::<String>))
        .exec(db)
        .await?;
    Ok(done.rows_affected == 1)
}

/// Marks a job failed: it is tried again later, or it is dead. Says whether the lease still held.
///
/// # Errors
/// When the database fails.
pub async fn fail(
    db: &DatabaseConnection,
    leased: &Leased,
    failure: &Failure,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let (why, dead) = match failure {
        Failure::Again(why) => (why, leased.job.attempts >= MOST_ATTEMPTS),
        Failure::Never(why) => (why, true),
    };
    let why: String = why.chars().take(LONGEST_ERROR).collect();
    let change = ours(leased).col_expr(Column::LastError, Expr::value(why));
    let change = if dead {
        change
            .col_expr(Column::Status, Expr::value(Status::Dead.to_value()))
            .col_expr(Column::FinishedAt, Expr::value(now))
    } else {
        change.col_expr(Column::RunAt, Expr::value(now + wait_after(leased.job.attempts)))
    };
    Ok(change.exec(db).await?.rows_affected == 1)
}

/// The job, if the lease on it still holds; the lease ends.
fn ours(leased: &Leased) -> UpdateMany<Entity> {
    Entity::update_many()
        .filter(Column::PracticeId.eq(leased.job.practice_id))
        .filter(Column::Id.eq(leased.job.id))
        .filter(Column::Status.eq(Status::Waiting))
        .filter(Column::Lease.eq(leased.lease))
        .col_expr(Column::Lease, Expr::value(None::<Uuid>))
}

/// Deletes what was done long ago. Dead ones stay.
///
/// # Errors
/// When the database fails.
pub(super) async fn sweep(db: &DatabaseConnection, now: DateTime<Utc>) -> Result<u64, ApiError> {
    let swept = Entity::delete_many()
        .filter(Column::Status.eq(Status::Done))
        .filter(Column::FinishedAt.lt(now - DONE_KEPT_FOR))
        .exec(db)
        .await?;
    Ok(swept.rows_affected)
}
