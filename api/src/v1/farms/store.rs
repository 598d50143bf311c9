//! Farms in the database. Every query starts from the caller's scope.

use chrono::{DateTime, Utc};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::farms;
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::prefix::Prefix;
use crate::http::{ApiError, BadMember};
use crate::v1::growers;

/// Finds a farm in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<farms::Model, ApiError> {
    let found = scope.farms().filter(farms::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("farm"))
}

/// Whether a farm named in a body is in scope.
pub async fn check_reference(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<(), ApiError> {
    let found = scope.farms().filter(farms::Column::Id.eq(id)).one(db).await?;
    match found {
        Some(_) => Ok(()),
        None => Err(BadMember::new("/farm_id", "There is no such farm.").given(id).into()),
    }
}

/// A page of the farms in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    (grower_id, name): (Option<Uuid>, Option<Prefix>),
    page: &PageRequest,
) -> Result<Page<farms::Model>, ApiError> {
    let mut rows = scope.farms();
    if let Some(grower_id) = grower_id {
        rows = rows.filter(farms::Column::GrowerId.eq(grower_id));
    }
    if let Some(name) = name {
        rows = rows.filter(name.begins(db, farms::Column::Name));
    }
    let columns = (farms::Column::Id, farms::Column::UpdatedAt);
    page.read(db, rows, columns, |row| RowPlace { updated_at: row.updated_at, id: row.id }).await
}

/// Stores a farm of a grower in scope.
pub async fn insert(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
    now: DateTime<Utc>,
    (grower_id, name): (Uuid, String),
) -> Result<farms::Model, ApiError> {
    growers::store::check_reference(db, scope, grower_id).await?;
    let row = farms::ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(id),
        grower_id: Set(grower_id),
        name: Set(name),
        version: Set(1),
        created_at: Set(now),
        updated_at: Set(now),
    };
    Ok(row.insert(db).await?)
}

/// Stores a new name if the row still has a version that is expected.
pub async fn update(
    db: &impl ConnectionTrait,
    before: farms::Model,
    expected: &Expected,
    now: DateTime<Utc>,
    name: Option<String>,
) -> Result<farms::Model, ApiError> {
    expected.check(before.version)?;
    let row = farms::ActiveModel {
        name: Set(name.unwrap_or(before.name)),
        version: Set(before.version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    let done = farms::Entity::update_many()
        .set(row)
        .filter(farms::Column::PracticeId.eq(before.practice_id))
        .filter(farms::Column::Id.eq(before.id))
        .filter(farms::Column::Version.eq(before.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(db, Scope::of_practice(before.practice_id), before.id).await
}

/// Deletes a farm if nothing depends on it and it has a version that is expected.
pub async fn delete(
    db: &impl ConnectionTrait,
    row: &farms::Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    let done = farms::Entity::delete_many()
        .filter(farms::Column::PracticeId.eq(row.practice_id))
        .filter(farms::Column::Id.eq(row.id))
        .filter(farms::Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}
