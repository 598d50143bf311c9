//! Practices in the database.

use chrono::{DateTime, Utc};
use sea_orm::{ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::dto::PracticeChange;
use crate::entities::practices::{ActiveModel, Column, Entity, Model};
use crate::http::ApiError;
use crate::http::etag::{self, Expected};

/// The practice of the caller.
pub async fn find(db: &impl ConnectionTrait, id: Uuid) -> Result<Model, ApiError> {
    let found = Entity::find_by_id(id).one(db).await?;
    found.ok_or_else(|| ApiError::internal("an account without a practice"))
}

/// Stores changes if the row still has a version that is expected.
pub async fn change(
    db: &impl ConnectionTrait,
    before: Model,
    expected: &Expected,
    now: DateTime<Utc>,
    change: PracticeChange,
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    let PracticeChange { advisors_see, time_zone, season_starts } = change;
    let row = ActiveModel {
        advisors_see: Set(advisors_see.unwrap_or(before.advisors_see)),
        time_zone: Set(time_zone.unwrap_or(before.time_zone)),
        season_starts: Set(season_starts.unwrap_or(before.season_starts)),
        version: Set(before.version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    let done = Entity::update_many()
        .set(row)
        .filter(Column::Id.eq(before.id))
        .filter(Column::Version.eq(before.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(db, before.id).await
}
