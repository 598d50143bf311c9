//! Putting work into the queue.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::OnConflict;
use sea_orm::{ActiveValue::Set, ConnectionTrait, EntityTrait};
use uuid::Uuid;

use super::task::Task;
use crate::app::AppState;
use crate::entities::jobs::{ActiveModel, Column, Entity, Status};
use crate::http::ApiError;

/// A job to be stored.
#[derive(Debug, Clone)]
pub struct NewJob {
    /// The practice it belongs to.
    pub practice_id: Uuid,
    /// What is to be done.
    pub task: Task,
    /// Not before this time.
    pub run_at: DateTime<Utc>,
    /// With a key it is stored once: a second one with the same key is not.
    pub once_key: Option<String>,
}

/// Stores a job in the transaction of the change that it follows. Gives its id; none when a job with
/// its key is there already.
///
/// # Errors
/// When the database fails.
pub async fn enqueue(
    tx: &impl ConnectionTrait,
    app: &AppState,
    new: NewJob,
) -> Result<Option<Uuid>, ApiError> {
    let NewJob { practice_id, task, run_at, once_key } = new;
    let id = app.ids.next();
    let row = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(id),
        kind: Set(task.kind()),
        grower_id: Set(task.grower_id()),
        payload: Set(serde_json::to_value(&task).map_err(ApiError::internal)?),
        once_key: Set(once_key),
        status: Set(Status::Waiting),
        run_at: Set(run_at),
        attempts: Set(0),
        lease: Set(None),
        last_error: Set(None),
        created_at: Set(app.clock.now()),
        finished_at: Set(None),
    };
    let once = OnConflict::columns([Column::PracticeId, Column::OnceKey]).do_nothing().to_owned();
    let stored = Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    Ok((stored > 0).then_some(id))
}
