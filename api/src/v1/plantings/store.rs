//! Plantings in the database. Every query starts from the caller's scope.

use chrono::{DateTime, NaiveDate, Utc};
use domain::quantity::{Area, ArealNumberDensity, Bound, Length, Measured, bounds};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
    QueryOrder,
};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uuid::Uuid;

use super::belongs;
use super::dto::PlantingIn;
use super::need::{self, Sown};
use super::notices::{self, About};
use crate::auth::Scope;
use crate::entities::fields;
use crate::entities::plantings::{ActiveModel, Column, Crop, Entity, Model};
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Patch};
use crate::v1::author::Author;
use crate::v1::cost::Cost;
use crate::v1::fields as fields_of;
use crate::v1::fingerprint;

/// What was entered with its unit, as it was entered.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Entered {
    /// Seeds on an area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seeds: Option<Quantity>,
    /// Depth of the seed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth: Option<Quantity>,
    /// Area that was planted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<Quantity>,
}

/// A planting to be stored, checked but for what it refers to.
#[derive(Debug)]
pub struct New {
    /// The planter.
    pub planter_id: Uuid,
    /// The recommendation that was followed.
    pub recommendation_id: Option<Uuid>,
    /// The day.
    pub planted_on: NaiveDate,
    /// The crop.
    pub crop: Crop,
    /// What has a unit.
    pub entered: Entered,
    /// Hours.
    pub hours: Option<f64>,
    /// What it cost.
    pub cost: Option<Cost>,
    /// A note.
    pub note: Option<String>,
}

/// Changes to be stored.
#[derive(Debug)]
pub struct Change {
    /// The planter.
    pub planter_id: Option<Uuid>,
    /// The day.
    pub planted_on: Option<NaiveDate>,
    /// The crop.
    pub crop: Option<Crop>,
    /// The recommendation that was followed.
    pub recommendation_id: Patch<Uuid>,
    /// Seeds on an area.
    pub seeds: Patch<Quantity>,
    /// Depth of the seed.
    pub depth: Patch<Quantity>,
    /// Area that was planted.
    pub area: Patch<Quantity>,
    /// Hours.
    pub hours: Patch<f64>,
    /// What it cost.
    pub cost: Patch<Cost>,
    /// A note.
    pub note: Patch<String>,
}

/// Which plantings.
#[derive(Debug, Clone, Copy, Default)]
pub struct Filter {
    /// Only in the fields of this grower.
    pub grower_id: Option<Uuid>,
    /// Only in this field.
    pub field_id: Option<Uuid>,
    /// Only with this planter.
    pub planter_id: Option<Uuid>,
    /// Only of this crop.
    pub crop: Option<Crop>,
    /// First day.
    pub from: Option<NaiveDate>,
    /// Last day.
    pub to: Option<NaiveDate>,
}

/// Finds a planting in scope. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = scope.plantings().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("planting"))
}

/// The planting named in a body at `/planting_id`, if it is in scope.
pub async fn find_reference(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = scope.plantings().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| {
        BadMember::new("/planting_id", "There is no such planting.").given(id).into()
    })
}

/// The newest planting of a field on a day or before it.
pub async fn newest_of_field(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    day: NaiveDate,
) -> Result<Option<Model>, ApiError> {
    let rows = scope.plantings().filter(Column::FieldId.eq(field_id));
    let rows = rows
        .filter(Column::PlantedOn.lte(day))
        .order_by_desc(Column::PlantedOn)
        .order_by_desc(Column::Id);
    Ok(rows.one(db).await?)
}

/// A page of the plantings in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    filter: Filter,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let Filter { grower_id, field_id, planter_id, crop, from, to } = filter;
    let mut rows = scope.plantings();
    if let Some(grower_id) = grower_id {
        rows = rows.filter(Column::FieldId.in_subquery(scope.field_ids_of(grower_id)));
    }
    if let Some(field_id) = field_id {
        rows = rows.filter(Column::FieldId.eq(field_id));
    }
    if let Some(planter_id) = planter_id {
        rows = rows.filter(Column::PlanterId.eq(planter_id));
    }
    if let Some(crop) = crop {
        rows = rows.filter(Column::Crop.eq(crop));
    }
    if let Some(from) = from {
        rows = rows.filter(Column::PlantedOn.gte(from));
    }
    if let Some(to) = to {
        rows = rows.filter(Column::PlantedOn.lte(to));
    }
    let place = |row: &Model| RowPlace { updated_at: row.updated_at, id: row.id };
    page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await
}

/// Stores a planting, unless the same one was sent before; gives the row that is there then.
pub async fn insert(
    tx: &DatabaseTransaction,
    scope: Scope,
    author: Author,
    field: &fields::Model,
    (given, new): (&PlantingIn, New),
) -> Result<Model, ApiError> {
    belongs::planter(tx, scope, field, new.planter_id).await?;
    if let Some(id) = new.recommendation_id {
        belongs::recommendation(tx, scope, (field.id, new.planter_id), id).await?;
    }
    // Also after a change the same is known again.
    let fingerprint = fingerprint::of(&(field.id, given))?;
    if let Some(there) = by_fingerprint(tx, scope, &fingerprint).await? {
        return Ok(there);
    }
    let figures = Figures::of(&new.entered, field)?;
    let about = figures.about((author.id, field.id), new.planted_on);
    let notices = notices::of(tx, scope, about).await?;
    let planted = Sown {
        field,
        recommendation_id: new.recommendation_id,
        crop: new.crop.into(),
        planted_on: new.planted_on,
        depth: figures.depth,
    };
    let need = need::of(tx, scope, &planted).await?;
    let row = ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(author.id),
        field_id: Set(field.id),
        planter_id: Set(new.planter_id),
        recommendation_id: Set(new.recommendation_id),
        planted_on: Set(new.planted_on),
        crop: Set(new.crop),
        area_m2: Set(figures.area()),
        seeds_per_m2: Set(figures.seeds.map(ArealNumberDensity::si)),
        depth_m: Set(figures.depth.map(Length::si)),
        hours: Set(new.hours),
        entered: Set(json(&new.entered)?),
        notices: Set(json(&notices)?),
        need: Set(json(&need)?),
        note: Set(new.note),
        fingerprint: Set(fingerprint.clone()),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
        updated_at: Set(author.now),
        version: Set(1),
        cost_amount: Set(new.cost.as_ref().map(|cost| cost.amount)),
        cost_currency: Set(new.cost.map(|cost| cost.currency)),
    };
    let once =
        OnConflict::columns([Column::PracticeId, Column::Fingerprint]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    let there = by_fingerprint(tx, scope, &fingerprint).await?;
    there.ok_or_else(|| ApiError::internal("a planting that was stored is not there"))
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
    let field = fields_of::store::find(tx, scope, before.field_id).await?;
    let planter_id = change.planter_id.unwrap_or(before.planter_id);
    let recommendation_id = change.recommendation_id.over(before.recommendation_id);
    if planter_id != before.planter_id {
        belongs::planter(tx, scope, &field, planter_id).await?;
    }
    if let Some(id) = recommendation_id {
        belongs::recommendation(tx, scope, (field.id, planter_id), id).await?;
    }
    // Without a word about it, the area stays that of the day of planting, whatever the field has now.
    let kept_area = if matches!(change.area, Patch::Absent) { before.area_m2 } else { None };
    let entered = entered_of(&before)?;
    let entered = Entered {
        seeds: change.seeds.over(entered.seeds),
        depth: change.depth.over(entered.depth),
        area: change.area.over(entered.area),
    };
    let planted_on = change.planted_on.unwrap_or(before.planted_on);
    let figures = Figures::of(&entered, &field)?;
    let notices = notices::of(tx, scope, figures.about((before.id, field.id), planted_on)).await?;
    let crop = change.crop.unwrap_or(before.crop);
    let planted = Sown {
        field: &field,
        recommendation_id,
        crop: crop.into(),
        planted_on,
        depth: figures.depth,
    };
    let need = need::of(tx, scope, &planted).await?;
    let cost = change.cost.over(Cost::of_columns(before.cost_amount, before.cost_currency));
    let row = ActiveModel {
        planter_id: Set(planter_id),
        recommendation_id: Set(recommendation_id),
        planted_on: Set(planted_on),
        crop: Set(crop),
        area_m2: Set(kept_area.or(figures.area())),
        seeds_per_m2: Set(figures.seeds.map(ArealNumberDensity::si)),
        depth_m: Set(figures.depth.map(Length::si)),
        hours: Set(change.hours.over(before.hours)),
        entered: Set(json(&entered)?),
        notices: Set(json(&notices)?),
        need: Set(json(&need)?),
        note: Set(change.note.over(before.note)),
        version: Set(before.version + 1),
        updated_at: Set(now),
        cost_amount: Set(cost.as_ref().map(|cost| cost.amount)),
        cost_currency: Set(cost.map(|cost| cost.currency)),
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

/// Deletes a planting if nothing depends on it and it has a version that is expected.
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

/// What was entered with a planting.
pub fn entered_of(row: &Model) -> Result<Entered, ApiError> {
    serde_json::from_value(row.entered.clone()).map_err(ApiError::internal)
}

/// What a planting says in numbers.
#[derive(Debug, Clone, Copy)]
struct Figures {
    seeds: Option<ArealNumberDensity>,
    depth: Option<Length>,
    planted: Option<Area>,
    field: Option<Area>,
}

impl Figures {
    fn of(entered: &Entered, field: &fields::Model) -> Result<Self, ApiError> {
        Ok(Self {
            seeds: number("/seeds", entered.seeds.as_ref(), &bounds::SEED_POPULATION)?,
            depth: number("/depth", entered.depth.as_ref(), &bounds::PLANTING_DEPTH)?,
            planted: number("/area", entered.area.as_ref(), &bounds::FIELD_AREA)?,
            field: fields_of::store::area_of(field)?,
        })
    }

    fn area(&self) -> Option<f64> {
        self.planted.or(self.field).map(Area::si)
    }

    fn about(&self, (id, field_id): (Uuid, Uuid), planted_on: NaiveDate) -> About {
        About { id, field_id, planted_on, planted: self.planted, field: self.field }
    }
}

fn number<Q: Measured>(
    pointer: &str,
    given: Option<&Quantity>,
    bound: &Bound<Q>,
) -> Result<Option<Q>, ApiError> {
    given.map(|quantity| quantity.parse(pointer, bound)).transpose().map_err(ApiError::from)
}

async fn by_fingerprint(
    db: &impl ConnectionTrait,
    scope: Scope,
    fingerprint: &str,
) -> Result<Option<Model>, ApiError> {
    Ok(scope.plantings().filter(Column::Fingerprint.eq(fingerprint)).one(db).await?)
}

fn json(value: impl Serialize) -> Result<Value, ApiError> {
    serde_json::to_value(value).map_err(ApiError::internal)
}
