//! Puts digests into the queue when their hour has come.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QuerySelect};

use super::wishes::When;
use crate::app::AppState;
use crate::db;
use crate::entities::mail_wishes::{Column, Entity, Model};
use crate::http::ApiError;
use crate::jobs::{NewJob, Task, enqueue};
use crate::v1::practice::SeasonCalendar;

/// At most so many at once; the rest comes the next time.
const AT_ONCE: u64 = 50;

/// Makes a job of each digest whose time has come, once however many processes look, and notes when
/// the next one is due.
///
/// # Errors
/// When the database fails.
pub async fn enqueue_due(app: &AppState) -> Result<(), ApiError> {
    let now = app.clock.now();
    let due = Entity::find().filter(Column::NextDigestAt.lte(now)).limit(AT_ONCE);
    for row in due.all(&app.db).await? {
        enqueue_one(app, &row, now).await?;
    }
    Ok(())
}

async fn enqueue_one(app: &AppState, row: &Model, now: DateTime<Utc>) -> Result<(), ApiError> {
    let tx = db::begin(&app.db).await?;
    let calendar = SeasonCalendar::load(&tx, row.practice_id).await?;
    let next = When::of(row).next(&calendar, now);
    let moved = Entity::update_many()
        .col_expr(Column::NextDigestAt, Expr::value(next))
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::NextDigestAt.eq(row.next_digest_at))
        .exec(&tx)
        .await?;
    if let (1, Some(account_id)) = (moved.rows_affected, row.account_id) {
        let once_key = Some(format!("digest {account_id} {}", calendar.today(now)));
        let task = Task::Digest { account_id };
        enqueue(&tx, app, NewJob { practice_id: row.practice_id, task, run_at: now, once_key })
            .await?;
    }
    tx.commit().await?;
    Ok(())
}
