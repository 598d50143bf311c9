//! What people say about entries: later, or who. Kept by the key of an entry, since entries are not.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use sea_orm::sea_query::{ExprTrait, OnConflict};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use super::find::Found;
use crate::app::AppState;
use crate::entities::attention_marks::{ActiveModel, Column, Entity, Model};
use crate::http::ApiError;

/// How long a mark is kept that says nothing any more.
const KEPT_FOR: TimeDelta = TimeDelta::days(30);

/// All marks of a practice, by the key of their entry.
pub(super) async fn all(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
) -> Result<HashMap<String, Model>, ApiError> {
    let rows = Entity::find().filter(Column::PracticeId.eq(practice_id)).all(db).await?;
    Ok(rows.into_iter().map(|row| (row.entry_key.clone(), row)).collect())
}

/// Whether an entry is put off: until the day that was said, or until something new happens to it.
pub(super) fn is_snoozed(mark: &Model, found: &Found, today: NaiveDate) -> bool {
    let until = mark.snoozed_until.is_some_and(|until| today < until);
    let news = mark.snoozed_at.is_none_or(|at| found.event_at > at);
    until && !news
}

/// What is said.
#[derive(Debug, Clone)]
pub(super) enum Said {
    /// Not before this day, and why.
    Later(NaiveDate, String),
    /// It counts again.
    Again,
    /// Somebody looks after it.
    Who(Uuid),
    /// Nobody in particular does.
    Nobody,
}

/// Stores what somebody says about an entry.
pub(super) async fn say(
    tx: &impl ConnectionTrait,
    app: &AppState,
    (practice_id, by): (Uuid, Uuid),
    (entry_key, grower_id): (&str, Option<Uuid>),
    said: Said,
) -> Result<Model, ApiError> {
    let now = app.clock.now();
    forget_old(tx, practice_id, now).await?;
    insert_if_none(tx, app, practice_id, (entry_key, grower_id)).await?;
    let row = find(tx, practice_id, entry_key).await?;
    let row = row.ok_or_else(|| ApiError::internal("a mark that was just stored"))?;
    let mut change = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(row.id),
        updated_at: Set(now),
        ..Default::default()
    };
    match said {
        Said::Later(until, reason) => {
            change.snoozed_until = Set(Some(until));
            change.snooze_reason = Set(Some(reason));
            change.snoozed_at = Set(Some(now));
            change.snoozed_by = Set(Some(by));
        }
        Said::Again => {
            change.snoozed_until = Set(None);
            change.snooze_reason = Set(None);
            change.snoozed_at = Set(None);
            change.snoozed_by = Set(None);
        }
        Said::Who(account_id) => {
            change.assigned_to = Set(Some(account_id));
            change.assigned_at = Set(Some(now));
            change.assigned_by = Set(Some(by));
        }
        Said::Nobody => {
            change.assigned_to = Set(None);
            change.assigned_at = Set(None);
            change.assigned_by = Set(None);
        }
    }
    Ok(change.update(tx).await?)
}

/// The mark of an entry.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    entry_key: &str,
) -> Result<Option<Model>, ApiError> {
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::EntryKey.eq(entry_key));
    Ok(rows.one(db).await?)
}

async fn insert_if_none(
    tx: &impl ConnectionTrait,
    app: &AppState,
    practice_id: Uuid,
    (entry_key, grower_id): (&str, Option<Uuid>),
) -> Result<(), ApiError> {
    let row = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(app.ids.next()),
        entry_key: Set(entry_key.to_owned()),
        grower_id: Set(grower_id),
        snoozed_until: Set(None),
        snooze_reason: Set(None),
        snoozed_at: Set(None),
        snoozed_by: Set(None),
        assigned_to: Set(None),
        assigned_at: Set(None),
        assigned_by: Set(None),
        updated_at: Set(app.clock.now()),
    };
    let once = OnConflict::columns([Column::PracticeId, Column::EntryKey]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    Ok(())
}

/// Marks that are over go, so that the table does not grow with the years.
async fn forget_old(
    tx: &impl ConnectionTrait,
    practice_id: Uuid,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let over = (now - KEPT_FOR).date_naive();
    Entity::delete_many()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::AssignedTo.is_null())
        .filter(Column::SnoozedUntil.is_null().or(Column::SnoozedUntil.lt(over)))
        .filter(Column::UpdatedAt.lt(now - KEPT_FOR))
        .exec(tx)
        .await?;
    Ok(())
}
