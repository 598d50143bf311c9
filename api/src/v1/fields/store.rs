//! Fields in the database. Every query starts from the caller's scope.

use chrono::{DateTime, Utc};
use domain::quantity::{Area, Measured, bounds};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use serde::Serialize;
use serde_json::Value;
use uuid::Uuid;

use super::boundary::Boundary;
use super::texture::TextureClass;
use crate::auth::Scope;
use crate::entities::fields;
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::prefix::Prefix;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Patch};
use crate::v1::farms;

/// A field to be stored.
#[derive(Debug)]
pub struct NewField {
    /// The farm.
    pub farm_id: Uuid,
    /// Name.
    pub name: String,
    /// Boundary and the area inside it.
    pub boundary: Option<(Boundary, Area)>,
    /// Area as entered, checked.
    pub entered_area: Option<Quantity>,
    /// Texture class.
    pub texture_class: Option<TextureClass>,
    /// Notes.
    pub notes: Option<String>,
}

/// Changes to be stored.
#[derive(Debug)]
pub struct FieldChange {
    /// Name.
    pub name: Option<String>,
    /// Boundary and the area inside it.
    pub boundary: Patch<(Boundary, Area)>,
    /// Area as entered, checked.
    pub entered_area: Patch<Quantity>,
    /// Texture class.
    pub texture_class: Patch<TextureClass>,
    /// Notes.
    pub notes: Patch<String>,
}

/// Finds a field in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<fields::Model, ApiError> {
    let found = scope.fields().filter(fields::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("field"))
}

/// The field named in a body at `/field_id`, if it is in scope.
pub async fn find_reference(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<fields::Model, ApiError> {
    let found = scope.fields().filter(fields::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| BadMember::new("/field_id", "There is no such field.").given(id).into())
}

/// A page of the fields in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    (farm_id, name): (Option<Uuid>, Option<Prefix>),
    page: &PageRequest,
) -> Result<Page<fields::Model>, ApiError> {
    let mut rows = scope.fields();
    if let Some(farm_id) = farm_id {
        rows = rows.filter(fields::Column::FarmId.eq(farm_id));
    }
    if let Some(name) = name {
        rows = rows.filter(name.begins(db, fields::Column::Name));
    }
    let columns = (fields::Column::Id, fields::Column::UpdatedAt);
    page.read(db, rows, columns, |row| RowPlace { updated_at: row.updated_at, id: row.id }).await
}

/// The area that is worked with: the entered one, else that inside the boundary.
pub fn area_of(row: &fields::Model) -> Result<Option<Area>, ApiError> {
    let Some(entered) = row.entered_area.clone() else {
        return Ok(row.area_m2.map(Area::from_si));
    };
    let entered: Quantity = serde_json::from_value(entered).map_err(ApiError::internal)?;
    let checked = entered.parse("/entered_area", &bounds::FIELD_AREA);
    checked.map(Some).map_err(|bad| ApiError::internal(format!("field {}: {bad:?}", row.id)))
}

/// Stores a field of a farm in scope.
pub async fn insert(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
    now: DateTime<Utc>,
    new: NewField,
) -> Result<fields::Model, ApiError> {
    let NewField { farm_id, name, boundary, entered_area, texture_class, notes } = new;
    farms::store::check_reference(db, scope, farm_id).await?;
    let (boundary, area) = boundary.unzip();
    let row = fields::ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(id),
        farm_id: Set(farm_id),
        name: Set(name),
        boundary: Set(boundary.map(json).transpose()?),
        area_m2: Set(area.map(Area::si)),
        entered_area: Set(entered_area.map(json).transpose()?),
        texture_class: Set(texture_class),
        notes: Set(notes),
        version: Set(1),
        created_at: Set(now),
        updated_at: Set(now),
    };
    Ok(row.insert(db).await?)
}

/// Stores changes if the row still has a version that is expected.
pub async fn update(
    db: &impl ConnectionTrait,
    before: fields::Model,
    expected: &Expected,
    now: DateTime<Utc>,
    change: FieldChange,
) -> Result<fields::Model, ApiError> {
    expected.check(before.version)?;
    let FieldChange { name, boundary, entered_area, texture_class, notes } = change;
    let (boundary, area_m2) = match boundary {
        Patch::Absent => (before.boundary, before.area_m2),
        Patch::Null => (None, None),
        Patch::Value((boundary, area)) => (Some(json(boundary)?), Some(area.si())),
    };
    let row = fields::ActiveModel {
        name: Set(name.unwrap_or(before.name)),
        boundary: Set(boundary),
        area_m2: Set(area_m2),
        entered_area: Set(entered_area.try_map(json)?.over(before.entered_area)),
        texture_class: Set(texture_class.over(before.texture_class)),
        notes: Set(notes.over(before.notes)),
        version: Set(before.version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    let done = fields::Entity::update_many()
        .set(row)
        .filter(fields::Column::PracticeId.eq(before.practice_id))
        .filter(fields::Column::Id.eq(before.id))
        .filter(fields::Column::Version.eq(before.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(db, Scope::of_practice(before.practice_id), before.id).await
}

/// Deletes a field if nothing depends on it and it has a version that is expected.
pub async fn delete(
    db: &impl ConnectionTrait,
    row: &fields::Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    let done = fields::Entity::delete_many()
        .filter(fields::Column::PracticeId.eq(row.practice_id))
        .filter(fields::Column::Id.eq(row.id))
        .filter(fields::Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}

fn json(value: impl Serialize) -> Result<Value, ApiError> {
    serde_json::to_value(value).map_err(ApiError::internal)
}
