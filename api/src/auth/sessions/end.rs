//! A session ends before its time.

use chrono::{DateTime, Utc};
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, UpdateMany,
};
use uuid::Uuid;

use super::WayOut;
use crate::entities::sessions;
use crate::http::ApiError;

/// Ends one session of a practice. Says whether it was open.
///
/// # Errors
/// When the database fails.
pub async fn end(
    db: &impl ConnectionTrait,
    (practice_id, id): (Uuid, Uuid),
    because: WayOut,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    let open = ending(practice_id, because, now).filter(sessions::Column::Id.eq(id));
    Ok(open.exec(db).await?.rows_affected > 0)
}

/// Ends all sessions of an account, but for one that may stay.
///
/// # Errors
/// When the database fails.
pub async fn end_all_of_account(
    db: &impl ConnectionTrait,
    (practice_id, account_id): (Uuid, Uuid),
    stays: Option<Uuid>,
    because: WayOut,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let mut open =
        ending(practice_id, because, now).filter(sessions::Column::AccountId.eq(account_id));
    if let Some(stays) = stays {
        open = open.filter(sessions::Column::Id.ne(stays));
    }
    open.exec(db).await?;
    Ok(())
}

/// Ends all sessions that began with an access link.
///
/// # Errors
/// When the database fails.
pub async fn end_all_of_link(
    db: &impl ConnectionTrait,
    (practice_id, access_link_id): (Uuid, Uuid),
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    ending(practice_id, WayOut::LinkRevoked, now)
        .filter(sessions::Column::AccessLinkId.eq(access_link_id))
        .exec(db)
        .await?;
    Ok(())
}

/// Sets the end of sessions that are open.
fn ending(practice_id: Uuid, because: WayOut, now: DateTime<Utc>) -> UpdateMany<sessions::Entity> {
    sessions::Entity::update_many()
        .set(sessions::ActiveModel {
            ended_at: Set(Some(now)),
            ended_because: Set(Some(because)),
            ..Default::default()
        })
        .filter(sessions::Column::PracticeId.eq(practice_id))
        .filter(sessions::Column::EndedAt.is_null())
}
