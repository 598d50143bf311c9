//! Planters in the database. Every query starts from the caller's scope.

use chrono::{DateTime, Utc};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use super::makeup::Makeup;
use crate::auth::Scope;
use crate::entities::planters;
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::prefix::Prefix;
use crate::http::{ApiError, BadMember};
use crate::v1::growers;

/// Finds a planter in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<planters::Model, ApiError> {
    let found = scope.planters().filter(planters::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("planter"))
}

/// The planter named in a body at `/planter_id`, if it is in scope.
pub async fn find_reference(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<planters::Model, ApiError> {
    let found = scope.planters().filter(planters::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| BadMember::new("/planter_id", "There is no such planter.").given(id).into())
}

/// What a stored planter is made of.
pub fn makeup(row: &planters::Model) -> Result<Makeup, ApiError> {
    serde_json::from_value(row.makeup.clone()).map_err(ApiError::internal)
}

/// A page of the planters in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    (grower_id, name): (Option<Uuid>, Option<Prefix>),
    page: &PageRequest,
) -> Result<Page<planters::Model>, ApiError> {
    let mut rows = scope.planters();
    if let Some(grower_id) = grower_id {
        rows = rows.filter(planters::Column::GrowerId.eq(grower_id));
    }
    if let Some(name) = name {
        rows = rows.filter(name.begins(db, planters::Column::Name));
    }
    let columns = (planters::Column::Id, planters::Column::UpdatedAt);
    page.read(db, rows, columns, |row| RowPlace { updated_at: row.updated_at, id: row.id }).await
}

/// Stores a planter of a grower in scope.
pub async fn insert(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
    now: DateTime<Utc>,
    (grower_id, name, makeup): (Uuid, String, Makeup),
) -> Result<planters::Model, ApiError> {
    growers::store::check_reference(db, scope, grower_id).await?;
    let row = planters::ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(id),
        grower_id: Set(grower_id),
        name: Set(name),
        makeup: Set(serde_json::to_value(makeup).map_err(ApiError::internal)?),
        version: Set(1),
        created_at: Set(now),
        updated_at: Set(now),
    };
    Ok(row.insert(db).await?)
}

/// Stores a new name and makeup if the row still has a version that is expected.
pub async fn update(
    db: &impl ConnectionTrait,
    before: planters::Model,
    expected: &Expected,
    now: DateTime<Utc>,
    (name, makeup): (Option<String>, Option<Makeup>),
) -> Result<planters::Model, ApiError> {
    expected.check(before.version)?;
    let makeup = makeup.map(serde_json::to_value).transpose().map_err(ApiError::internal)?;
    let row = planters::ActiveModel {
        name: Set(name.unwrap_or(before.name)),
        makeup: Set(makeup.unwrap_or(before.makeup)),
        version: Set(before.version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    let done = planters::Entity::update_many()
        .set(row)
        .filter(planters::Column::PracticeId.eq(before.practice_id))
        .filter(planters::Column::Id.eq(before.id))
        .filter(planters::Column::Version.eq(before.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(db, Scope::of_practice(before.practice_id), before.id).await
}

/// Deletes a planter if nothing depends on it and it has a version that is expected.
pub async fn delete(
    db: &impl ConnectionTrait,
    row: &planters::Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    let done = planters::Entity::delete_many()
        .filter(planters::Column::PracticeId.eq(row.practice_id))
        .filter(planters::Column::Id.eq(row.id))
        .filter(planters::Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}
