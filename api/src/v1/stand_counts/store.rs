//! Stand counts in the database. Every query starts from the caller's scope.

use chrono::NaiveDate;
use domain::quantity::{Area, ArealNumberDensity, Measured, bounds};
use domain::stand::{CountMethod, StandFound, forecast, stand_found};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::notices::{self, About, StandNotice};
use super::observation::{StandMethodIn, StandReportIn};
use super::parse::Sown;
use crate::auth::Scope;
use crate::entities::stand_counts::{ActiveModel, Column, Entity, Model};
use crate::entities::{fields, plantings};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::{ApiError, BadMember, ProblemCode};
use crate::v1::author::Author;
use crate::v1::plantings::need;
use crate::v1::{planters, plantings as plantings_of, temperatures};

/// What is kept of a stand count beside what was entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stored {
    /// What it says.
    pub found: StandFound,
    /// What is to be known beside.
    pub notices: Vec<StandNotice>,
}

/// Finds a stand count in scope. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = scope.stand_counts().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("stand count"))
}

/// A page of the stand counts of a field.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let rows = scope.stand_counts().filter(Column::FieldId.eq(field_id));
    // A stand count never changes.
    let columns = (Column::Id, Column::CreatedAt);
    page.read(db, rows, columns, |row| RowPlace { updated_at: row.created_at, id: row.id }).await
}

/// What was entered with a stand count.
pub fn observation_of(row: &Model) -> Result<StandReportIn, ApiError> {
    serde_json::from_value(row.observation.clone()).map_err(ApiError::internal)
}

/// What a stand count was worked out to say.
pub fn result_of(row: &Model) -> Result<Stored, ApiError> {
    serde_json::from_value(row.result.clone()).map_err(ApiError::internal)
}

/// Stores a stand count, unless the same one was sent before; gives the row that is there then.
pub async fn insert(
    tx: &DatabaseTransaction,
    scope: Scope,
    author: Author,
    field: &fields::Model,
    (given, today): (&StandReportIn, NaiveDate),
) -> Result<Model, ApiError> {
    let planting = planting(tx, scope, field.id, given).await?;
    let fingerprint = fingerprint(&planting, given)?;
    if let Some(there) = by_fingerprint(tx, scope, &fingerprint).await? {
        return Ok(there);
    }
    let sown = sown(tx, scope, &planting).await?;
    let seen = given.parse(&sown, today)?;
    let found = stand_found(&seen).ok_or_else(|| {
        ApiError::from(BadMember::new("/count", "Nothing was counted over any ground."))
    })?;
    let notices = about(tx, scope, field, &planting, given, &found).await?;
    let row = ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(author.id),
        field_id: Set(field.id),
        planting_id: Set(planting.id),
        counted_on: Set(given.counted_on),
        observation: Set(serde_json::to_value(given).map_err(ApiError::internal)?),
        result: Set(serde_json::to_value(Stored { found, notices }).map_err(ApiError::internal)?),
        fingerprint: Set(fingerprint.clone()),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
    };
    let once =
        OnConflict::columns([Column::PracticeId, Column::Fingerprint]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    let there = by_fingerprint(tx, scope, &fingerprint).await?;
    there.ok_or_else(|| ApiError::internal("a stand count that was stored is not there"))
}

/// The planting of a count: the one that is named, which must be of this field, or the newest.
async fn planting(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    given: &StandReportIn,
) -> Result<plantings::Model, ApiError> {
    if let Some(id) = given.planting_id {
        let row = plantings_of::store::find_reference(db, scope, id).await?;
        if row.field_id != field_id {
            let detail = "The planting is of another field.";
            return Err(BadMember::new("/planting_id", detail).given(id).into());
        }
        return Ok(row);
    }
    let newest =
        plantings_of::store::newest_of_field(db, scope, field_id, given.counted_on).await?;
    newest.ok_or_else(|| {
        ApiError::new(
            ProblemCode::WrongState,
            "Nobody entered what was planted in this field up to that day. Enter the planting first: the row width and the seeds come from it.",
        )
    })
}

/// What the count of a planting is held against.
pub(super) async fn sown(
    db: &impl ConnectionTrait,
    scope: Scope,
    planting: &plantings::Model,
) -> Result<Sown, ApiError> {
    let planter = planters::store::find(db, scope, planting.planter_id).await?;
    let makeup = planters::store::makeup(&planter)?;
    let width = makeup.row_width.parse("/row_width", &bounds::ROW_WIDTH);
    let row_width =
        width.map_err(|bad| ApiError::internal(format!("planter {}: {bad:?}", planter.id)))?;
    Ok(Sown {
        crop: planting.crop.into(),
        planted_on: planting.planted_on,
        rows: makeup.rows,
        row_width,
        seeds: planting.seeds_per_m2.map(ArealNumberDensity::from_si),
    })
}

async fn about(
    db: &impl ConnectionTrait,
    scope: Scope,
    field: &fields::Model,
    planting: &plantings::Model,
    given: &StandReportIn,
    found: &StandFound,
) -> Result<Vec<StandNotice>, ApiError> {
    let span = (planting.planted_on, given.counted_on);
    let known = temperatures::store::known(db, scope, field.farm_id, span).await?;
    let need = need::stored(planting)?;
    let forecast = forecast(&need.emergence, &known, span, 0);
    Ok(notices::of(&About {
        found,
        crop: planting.crop.into(),
        method: given.count.method(),
        counts: given.count.counts(),
        late_by: given.late_by_days,
        area: planting.area_m2.map(Area::from_si),
        counted_on: given.counted_on,
        forecast: &forecast,
    }))
}

impl StandMethodIn {
    /// How it was counted.
    pub(super) fn method(&self) -> CountMethod {
        match self {
            Self::RowLength { .. } => CountMethod::RowLength,
            Self::Hoop { .. } => CountMethod::Hoop,
            Self::Wheel { .. } => CountMethod::Wheel,
        }
    }

    /// How many counts there are.
    pub(super) fn counts(&self) -> usize {
        match self {
            Self::RowLength { counts, .. } => counts.len(),
            Self::Hoop { counts, .. } => counts.len(),
            Self::Wheel { counts } => counts.len(),
        }
    }
}

async fn by_fingerprint(
    db: &impl ConnectionTrait,
    scope: Scope,
    fingerprint: &str,
) -> Result<Option<Model>, ApiError> {
    Ok(scope.stand_counts().filter(Column::Fingerprint.eq(fingerprint)).one(db).await?)
}

/// SHA-256 over the planting and all that was sent, whether it named the planting or not.
fn fingerprint(planting: &plantings::Model, given: &StandReportIn) -> Result<String, ApiError> {
    let named = StandReportIn { planting_id: Some(planting.id), ..given.clone() };
    crate::v1::fingerprint::of(&named)
}
