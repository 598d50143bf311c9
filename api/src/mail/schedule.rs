//! Puts digests into the queue when their hour has come.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect};

use super::wishes::When;
use crate::app::AppState;
use crate::db;
use crate::entities::mail_wishes::{Column, Entity, Model};
use crate::http::ApiError;
use crate::jobs::{NewJob, Task, enqueue};
use crate::v1::practice::SeasonCalendar;

/// At most so many at once; the rest comes the next time.
const AT_ONCE: u64 = 50;

/// When a digest that can't be put into the queue (its practice has a time zone that this version does
/// not know) is tried again: until then it is in nobody's way.
const TRIED_AGAIN: TimeDelta = TimeDelta::hours(1);

/// Makes a job of each digest whose time has come, once however many processes look, and notes when
/// the next one is due. One that fails is logged and put off; it holds up no other.
///
/// # Errors
/// When the database fails.
pub async fn enqueue_due(app: &AppState) -> Result<(), ApiError> {
    let now = app.clock.now();
    let due = Entity::find().filter(Column::NextDigestAt.lte(now));
    let due = due.order_by_asc(Column::NextDigestAt).limit(AT_ONCE);
    for row in due.all(&app.db).await? {
        if let Err(error) = enqueue_one(app, &row, now).await {
            let (account_id, cause) = (row.account_id, error.chain());
            tracing::warn!(?account_id, cause, "a digest can't be put into the queue");
            move_on(&app.db, &row, Some(now + TRIED_AGAIN)).await?;
        }
    }
    Ok(())
}

async fn enqueue_one(app: &AppState, row: &Model, now: DateTime<Utc>) -> Result<(), ApiError> {
    let tx = db::begin(&app.db).await?;
    let calendar = SeasonCalendar::load(&tx, row.practice_id).await?;
    let next = When::of(row).next(&calendar, now);
    let moved = move_on(&tx, row, next).await?;
    if let (true, Some(account_id)) = (moved, row.account_id) {
        let once_key = Some(format!("digest {account_id} {}", calendar.today(now)));
        let task = Task::Digest { account_id };
        enqueue(&tx, app, NewJob { practice_id: row.practice_id, task, run_at: now, once_key })
            .await?;
    }
    tx.commit().await?;
    Ok(())
}

/// Says when it is due the next time, unless another process or a new wish said so meanwhile.
async fn move_on(
    db: &impl ConnectionTrait,
    row: &Model,
    next: Option<DateTime<Utc>>,
) -> Result<bool, ApiError> {
    let moved = Entity::update_many()
        .col_expr(Column::NextDigestAt, Expr::value(next))
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::NextDigestAt.eq(row.next_digest_at))
        .exec(db)
        .await?;
    Ok(moved.rows_affected == 1)
}
