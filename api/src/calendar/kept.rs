//! What a feed showed last: so that a change raises the number that calendar programs look at, and
//! what is done is called off for a while instead of just missing.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
    QuerySelect,
};

use super::events::Due;
use crate::app::AppState;
use crate::db;
use crate::entities::calendar_entries::{ActiveModel, Column, Entity, Model};
use crate::entities::calendar_feeds;
use crate::http::ApiError;

/// How long something that was called off stays in the feed.
const CALLED_OFF_FOR: TimeDelta = TimeDelta::days(21);
/// Rows of one statement.
const AT_ONCE: usize = 200;

/// An event as the feed shows it.
#[derive(Debug, Clone)]
pub(super) struct Listed {
    /// Names the matter.
    pub key: String,
    /// The day.
    pub on: NaiveDate,
    /// How often it changed.
    pub sequence: i32,
    /// When it changed last.
    pub changed_at: DateTime<Utc>,
    /// What it says; none of one that was called off.
    pub due: Option<Due>,
}

/// Notes what changed since the feed was read last, and gives it as it is now, in order of keys.
pub(super) async fn catch_up(
    app: &AppState,
    feed: &calendar_feeds::Model,
    due: Vec<Due>,
) -> Result<Vec<Listed>, ApiError> {
    let now = app.clock.now();
    let kept = rows(&app.db, feed).await?;
    if !differs(&kept, &due, now) {
        return Ok(listed(kept, due));
    }
    let tx = db::begin(&app.db).await?;
    // Two programs that read at once take turns.
    calendar_feeds::Entity::find_by_id((feed.practice_id, feed.id))
        .lock_exclusive()
        .one(&tx)
        .await?;
    store(&tx, app, feed, (&due, now)).await?;
    let kept = rows(&tx, feed).await?;
    tx.commit().await?;
    Ok(listed(kept, due))
}

async fn rows(
    db: &impl ConnectionTrait,
    feed: &calendar_feeds::Model,
) -> Result<Vec<Model>, ApiError> {
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(feed.practice_id))
        .filter(Column::FeedId.eq(feed.id));
    Ok(rows.all(db).await?)
}

fn is_over(row: &Model, now: DateTime<Utc>) -> bool {
    row.dropped_at.is_some_and(|at| now - at > CALLED_OFF_FOR)
}

fn differs(kept: &[Model], due: &[Due], now: DateTime<Utc>) -> bool {
    let shown: HashMap<&str, &Model> = kept
        .iter()
        .filter(|row| row.dropped_at.is_none())
        .map(|row| (row.entry_key.as_str(), row))
        .collect();
    let same = |due: &Due| {
        shown.get(due.key.as_str()).is_some_and(|row| row.fingerprint == due.fingerprint())
    };
    shown.len() != due.len() || !due.iter().all(same) || kept.iter().any(|row| is_over(row, now))
}

async fn store(
    tx: &impl ConnectionTrait,
    app: &AppState,
    feed: &calendar_feeds::Model,
    (due, now): (&[Due], DateTime<Utc>),
) -> Result<(), ApiError> {
    let mut kept: HashMap<String, Model> =
        rows(tx, feed).await?.into_iter().map(|row| (row.entry_key.clone(), row)).collect();
    let mut new = Vec::new();
    for due in due {
        match kept.remove(&due.key) {
            None => new.push(first(app, feed, due, now)),
            Some(row) if row.dropped_at.is_none() && row.fingerprint == due.fingerprint() => {}
            Some(row) => {
                let change = ActiveModel {
                    due_on: Set(due.on),
                    fingerprint: Set(due.fingerprint()),
                    dropped_at: Set(None),
                    ..moved(&row, now)
                };
                change.update(tx).await?;
            }
        }
    }
    for row in kept.into_values() {
        if is_over(&row, now) {
            Entity::delete_by_id((row.practice_id, row.id)).exec(tx).await?;
        } else if row.dropped_at.is_none() {
            let change = ActiveModel { dropped_at: Set(Some(now)), ..moved(&row, now) };
            change.update(tx).await?;
        }
    }
    for some in new.chunks(AT_ONCE) {
        let once = OnConflict::columns([Column::PracticeId, Column::FeedId, Column::EntryKey]);
        Entity::insert_many(some.iter().cloned())
            .on_conflict(once.clone().do_nothing().to_owned())
            .exec_without_returning(tx)
            .await?;
    }
    Ok(())
}

fn first(
    app: &AppState,
    feed: &calendar_feeds::Model,
    due: &Due,
    now: DateTime<Utc>,
) -> ActiveModel {
    ActiveModel {
        practice_id: Set(feed.practice_id),
        id: Set(app.ids.next()),
        feed_id: Set(feed.id),
        entry_key: Set(due.key.clone()),
        due_on: Set(due.on),
        sequence: Set(0),
        fingerprint: Set(due.fingerprint()),
        changed_at: Set(now),
        dropped_at: Set(None),
    }
}

/// A row that changes now.
fn moved(row: &Model, now: DateTime<Utc>) -> ActiveModel {
    ActiveModel {
        practice_id: Set(row.practice_id),
        id: Set(row.id),
        sequence: Set(row.sequence.saturating_add(1)),
        changed_at: Set(now),
        ..Default::default()
    }
}

fn listed(kept: Vec<Model>, due: Vec<Due>) -> Vec<Listed> {
    let mut due: HashMap<String, Due> = due.into_iter().map(|it| (it.key.clone(), it)).collect();
    let mut all: Vec<Listed> = kept
        .into_iter()
        .map(|row| Listed {
            due: due.remove(&row.entry_key).filter(|_| row.dropped_at.is_none()),
            on: row.due_on,
            sequence: row.sequence,
            changed_at: row.changed_at,
            key: row.entry_key,
        })
        .collect();
    all.sort_unstable_by(|one, other| one.key.cmp(&other.key));
    all
}
