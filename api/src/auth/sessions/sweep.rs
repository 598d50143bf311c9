//! What ended long ago goes.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{ColumnTrait, Condition, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use crate::entities::{accounts, refresh_tokens, sessions};
use crate::http::ApiError;

/// How long a session is kept after its end, for whoever asks what happened.
const KEPT_FOR: TimeDelta = TimeDelta::days(30);

/// Deletes the sessions of an account that ended long ago. Done when it signs in, so that the
/// tables do not grow with the years.
pub(super) async fn old_sessions(
    db: &impl ConnectionTrait,
    account: &accounts::Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let before = now - KEPT_FOR;
    let over = Condition::any()
        .add(sessions::Column::EndedAt.lt(before))
        .add(sessions::Column::IdleExpiresAt.lt(before));
    let old: Vec<Uuid> = sessions::Entity::find()
        .select_only()
        .column(sessions::Column::Id)
        .filter(sessions::Column::PracticeId.eq(account.practice_id))
        .filter(sessions::Column::AccountId.eq(account.id))
        .filter(over)
        .into_tuple()
        .all(db)
        .await?;
    if old.is_empty() {
        return Ok(());
    }
    refresh_tokens::Entity::delete_many()
        .filter(refresh_tokens::Column::PracticeId.eq(account.practice_id))
        .filter(refresh_tokens::Column::SessionId.is_in(old.iter().copied()))
        .exec(db)
        .await?;
    sessions::Entity::delete_many()
        .filter(sessions::Column::PracticeId.eq(account.practice_id))
        .filter(sessions::Column::Id.is_in(old))
        .exec(db)
        .await?;
    Ok(())
}
