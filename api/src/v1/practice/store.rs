//! Practices in the database.

use chrono::{DateTime, Utc};
use sea_orm::{ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use crate::entities::practices::{ActiveModel, AdvisorsSee, Column, Entity, Model};
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
    advisors_see: Option<AdvisorsSee>,
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    let row = ActiveModel {
        advisors_see: Set(advisors_see.unwrap_or(before.advisors_see)),
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
