//! One's own sessions in the database.

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, Select};
use uuid::Uuid;

use crate::auth::Caller;
use crate::entities::sessions;
use crate::http::ApiError;
use crate::http::page::PageRequest;

/// The open sessions of the caller.
fn own<P>(caller: &Caller<P>, now: DateTime<Utc>) -> Select<sessions::Entity> {
    sessions::Entity::find()
        .filter(sessions::Column::PracticeId.eq(caller.practice_id()))
        .filter(sessions::Column::AccountId.eq(caller.account_id()))
        .filter(sessions::Column::EndedAt.is_null())
        .filter(sessions::Column::IdleExpiresAt.gt(now))
}

/// A page of them.
pub(super) async fn page<P>(
    db: &impl ConnectionTrait,
    caller: &Caller<P>,
    now: DateTime<Utc>,
    page: &PageRequest,
) -> Result<(Vec<sessions::Model>, Option<String>), ApiError> {
    let rows = page.of(own(caller, now), sessions::Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// One of them.
pub(super) async fn find<P>(
    db: &impl ConnectionTrait,
    caller: &Caller<P>,
    now: DateTime<Utc>,
    id: Uuid,
) -> Result<sessions::Model, ApiError> {
    let found = own(caller, now).filter(sessions::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("open session"))
}
