//! Yields in the database. Every query starts from the caller's scope.

use chrono::{DateTime, NaiveDate, Utc};
use domain::quantity::{Area, ArealMassDensity, Measured, bounds};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
};
use serde::Serialize;
use serde_json::Value;
use uuid::Uuid;

use super::dto::{GrainBasis, YieldIn};
pub use super::water::Entered;
use crate::auth::Scope;
use crate::entities::plantings::Crop;
use crate::entities::yields::{ActiveModel, Column, Entity, Model};
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::quantity::Quantity;
use crate::http::{ApiError, Patch};
use crate::v1::author::Author;
use crate::v1::fingerprint;

/// A yield to be stored, checked.
#[derive(Debug)]
pub struct New {
    /// The day.
    pub harvested_on: NaiveDate,
    /// The crop.
    pub crop: Crop,
    /// What has a unit.
    pub entered: Entered,
    /// The dry matter that follows.
    pub dry: ArealMassDensity,
    /// A note.
    pub note: Option<String>,
}

/// Changes to be stored.
#[derive(Debug)]
pub struct Change {
    /// The day.
    pub harvested_on: Option<NaiveDate>,
    /// The crop.
    pub crop: Option<Crop>,
    /// Grain on an area.
    pub grain: Option<Quantity>,
    /// How much water it counts.
    pub basis: Option<GrainBasis>,
    /// Water in it.
    pub moisture: Patch<Quantity>,
    /// Area that was harvested.
    pub area: Patch<Quantity>,
    /// A note.
    pub note: Patch<String>,
}

/// Which yields.
#[derive(Debug, Clone, Copy, Default)]
pub struct Filter {
    /// Only of the fields of this grower.
    pub grower_id: Option<Uuid>,
    /// Only of this field.
    pub field_id: Option<Uuid>,
    /// Only of this crop.
    pub crop: Option<Crop>,
    /// First day.
    pub from: Option<NaiveDate>,
    /// Last day.
    pub to: Option<NaiveDate>,
}

/// Finds a yield in scope. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = scope.yields().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("yield"))
}

/// A page of the yields in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    filter: Filter,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let Filter { grower_id, field_id, crop, from, to } = filter;
    let mut rows = scope.yields();
    if let Some(grower_id) = grower_id {
        rows = rows.filter(Column::FieldId.in_subquery(scope.field_ids_of(grower_id)));
    }
    if let Some(field_id) = field_id {
        rows = rows.filter(Column::FieldId.eq(field_id));
    }
    if let Some(crop) = crop {
        rows = rows.filter(Column::Crop.eq(crop));
    }
    if let Some(from) = from {
        rows = rows.filter(Column::HarvestedOn.gte(from));
    }
    if let Some(to) = to {
        rows = rows.filter(Column::HarvestedOn.lte(to));
    }
    let place = |row: &Model| RowPlace { updated_at: row.updated_at, id: row.id };
    page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await
}

/// Stores a yield of a field in scope, unless the same one was sent before; gives the row that is
/// there then. It is new when its id is that of `author`.
pub async fn insert(
    tx: &DatabaseTransaction,
    scope: Scope,
    author: Author,
    field_id: Uuid,
    (given, new): (&YieldIn, New),
) -> Result<Model, ApiError> {
    // Also after a change the same is known again.
    let fingerprint = fingerprint::of(&(field_id, given))?;
    let row = ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(author.id),
        field_id: Set(field_id),
        harvested_on: Set(new.harvested_on),
        crop: Set(new.crop),
        dry_kg_m2: Set(new.dry.si()),
        area_m2: Set(area_of(&new.entered)?),
        entered: Set(json(&new.entered)?),
        note: Set(new.note),
        fingerprint: Set(fingerprint.clone()),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
        updated_at: Set(author.now),
        version: Set(1),
    };
    let once =
        OnConflict::columns([Column::PracticeId, Column::Fingerprint]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    let there = scope.yields().filter(Column::Fingerprint.eq(fingerprint)).one(tx).await?;
    there.ok_or_else(|| ApiError::internal("a yield that was stored is not there"))
}

/// Stores changes if the row still has a version that is expected.
pub async fn update(
    tx: &DatabaseTransaction,
    scope: Scope,
    before: Model,
    expected: &Expected,
    (now, change): (DateTime<Utc>, Change),
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    let stored: Entered = serde_json::from_value(before.entered).map_err(ApiError::internal)?;
    let entered = Entered {
        grain: change.grain.unwrap_or(stored.grain),
        basis: change.basis.unwrap_or(stored.basis),
        moisture: change.moisture.over(stored.moisture),
        area: change.area.over(stored.area),
    };
    let dry = entered.dry()?;
    let row = ActiveModel {
        harvested_on: Set(change.harvested_on.unwrap_or(before.harvested_on)),
        crop: Set(change.crop.unwrap_or(before.crop)),
        dry_kg_m2: Set(dry.si()),
        area_m2: Set(area_of(&entered)?),
        entered: Set(json(&entered)?),
        note: Set(change.note.over(before.note)),
        version: Set(before.version + 1),
        updated_at: Set(now),
        ..Default::default()
    };
    let done = Entity::update_many()
        .set(row)
        .filter(Column::PracticeId.eq(before.practice_id))
        .filter(Column::Id.eq(before.id))
        .filter(Column::Version.eq(before.version))
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(tx, scope, before.id).await
}

/// Deletes a yield if it has a version that is expected.
pub async fn delete(
    db: &impl ConnectionTrait,
    row: &Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    let done = Entity::delete_many()
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}

fn area_of(entered: &Entered) -> Result<Option<f64>, ApiError> {
    let area = entered.area.as_ref().map(|given| given.parse("/area", &bounds::FIELD_AREA));
    Ok(area.transpose()?.map(Area::si))
}

fn json(value: impl Serialize) -> Result<Value, ApiError> {
    serde_json::to_value(value).map_err(ApiError::internal)
}
