//! The rows of a data set, a page at a time, in the order of their ids. Every query starts from the scope,
//! and what came after the data set was asked for is left out, so that what refers to something finds it.

use std::collections::HashMap;

use sea_orm::{
    ColumnTrait, Condition, ConnectionTrait, EntityTrait, FromQueryResult, JoinType, QueryFilter,
    QueryOrder, QuerySelect, Select,
};
use uuid::Uuid;

use super::selection::{OneSheet, Selection};
use crate::entities::{
    dig_checks, farms, fields, growers, planters, plantings, recommendations, stand_counts,
};
use crate::http::ApiError;
use crate::reports::tables::{dug_in_season, sheets_of_season};
use crate::v1::recommendations::store::visible;

/// Rows that are read at once.
pub(super) const AT_ONCE: u64 = 100;

/// A sheet holds all that it was made from, so fewer are read at once.
pub(super) const SHEETS_AT_ONCE: u64 = 20;

/// Where a field is, for the documents about it.
#[derive(Debug, Clone, FromQueryResult)]
pub(super) struct Land {
    pub(super) id: Uuid,
    pub(super) name: String,
    pub(super) grower_id: Uuid,
}

/// One page of rows after an id, made before now.
macro_rules! page {
    ($rows:expr, $entity:ident, $of:expr, $after:expr, $most:expr, $db:expr) => {
        $rows
            .filter($entity::Column::Id.gt($after))
            .filter($entity::Column::CreatedAt.lte($of.now))
            .order_by_asc($entity::Column::Id)
            .limit($most)
            .all($db)
            .await
            .map_err(ApiError::from)
    };
}

pub(super) async fn sheets(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<recommendations::Model>, ApiError> {
    let rows = visible(what.scope());
    let rows = match what.sheet {
        Some(one) => rows.filter(recommendations::Column::Id.eq(one.id)),
        // Nobody plants by a draft.
        None => rows
            .filter(recommendations::Column::Status.ne(recommendations::Status::Draft))
            .filter(sheets_of_season(what.of)),
    };
    page!(rows, recommendations, what.of, after, SHEETS_AT_ONCE, db)
}

pub(super) async fn plantings(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<plantings::Model>, ApiError> {
    let rows = what.scope().plantings();
    let rows = rows.filter(planted(what));
    page!(rows, plantings, what.of, after, AT_ONCE, db)
}

/// By the sheet, or in the season.
fn planted(what: Selection) -> Condition {
    use plantings::Column;
    if let Some(one) = what.sheet {
        return Condition::all().add(Column::RecommendationId.eq(one.id));
    }
    let (from, to) = what.of.days();
    Condition::all().add(Column::PlantedOn.gte(from)).add(Column::PlantedOn.lt(to))
}

pub(super) async fn digs(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<dig_checks::Model>, ApiError> {
    let rows = what.scope().dig_checks();
    let rows = match what.sheet {
        Some(one) => rows.filter(dig_checks::Column::RecommendationId.eq(one.id)),
        None => dug_in_season(rows, what.of),
    };
    page!(rows, dig_checks, what.of, after, AT_ONCE, db)
}

/// The counts of the stands of plantings that are in the data set.
pub(super) async fn stands(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<stand_counts::Model>, ApiError> {
    let planting = stand_counts::Entity::belongs_to(plantings::Entity)
        .from((stand_counts::Column::PracticeId, stand_counts::Column::PlantingId))
        .to((plantings::Column::PracticeId, plantings::Column::Id));
    let rows = what.scope().stand_counts().join(JoinType::InnerJoin, planting.into());
    let rows = rows.filter(planted(what));
    page!(rows, stand_counts, what.of, after, AT_ONCE, db)
}

pub(super) async fn growers(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<growers::Model>, ApiError> {
    let rows = only(what, what.scope().growers(), growers::Column::Id, |one| one.grower);
    page!(rows, growers, what.of, after, AT_ONCE, db)
}

pub(super) async fn farms(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<farms::Model>, ApiError> {
    let rows = only(what, what.scope().farms(), farms::Column::Id, |one| one.farm);
    page!(rows, farms, what.of, after, AT_ONCE, db)
}

pub(super) async fn fields(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<fields::Model>, ApiError> {
    let rows = only(what, what.scope().fields(), fields::Column::Id, |one| one.field);
    page!(rows, fields, what.of, after, AT_ONCE, db)
}

pub(super) async fn planters(
    db: &impl ConnectionTrait,
    what: Selection,
    after: Uuid,
) -> Result<Vec<planters::Model>, ApiError> {
    let rows = only(what, what.scope().planters(), planters::Column::Id, |one| one.planter);
    page!(rows, planters, what.of, after, AT_ONCE, db)
}

fn only<E: EntityTrait>(
    what: Selection,
    rows: Select<E>,
    id: E::Column,
    of: impl Fn(OneSheet) -> Uuid,
) -> Select<E> {
    match what.sheet {
        Some(one) => rows.filter(id.eq(of(one))),
        None => rows,
    }
}

/// Names and growers of fields.
pub(super) async fn lands(
    db: &impl ConnectionTrait,
    what: Selection,
    ids: impl IntoIterator<Item = Uuid>,
) -> Result<HashMap<Uuid, Land>, ApiError> {
    let farm = fields::Entity::belongs_to(farms::Entity)
        .from((fields::Column::PracticeId, fields::Column::FarmId))
        .to((farms::Column::PracticeId, farms::Column::Id));
    let rows: Vec<Land> = what
        .scope()
        .fields()
        .filter(fields::Column::Id.is_in(ids))
        .join(JoinType::InnerJoin, farm.into())
        .select_only()
        .columns([fields::Column::Id, fields::Column::Name])
        .column(farms::Column::GrowerId)
        .into_model()
        .all(db)
        .await?;
    Ok(rows.into_iter().map(|land| (land.id, land)).collect())
}
