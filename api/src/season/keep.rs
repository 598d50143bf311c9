//! Keeping the sums of a season up to date, in the transaction of the write that changes them.
//!
//! What changed is counted anew: the field behind its planter, then the planter. Whoever does so holds
//! the planter until the transaction ends, so two writes at one moment count one after the other. Call
//! it last, when all rows are written.

use std::collections::BTreeSet;

use chrono::{DateTime, NaiveDate, Utc};
use domain::learning::SoilClass;
use domain::season::{FieldLook, Sums};
use sea_orm::sea_query::{LockType, OnConflict};
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
    QuerySelect,
};
use uuid::Uuid;

use super::facts::{read, text};
use super::land::{Happened, Land, Which, happened};
use crate::entities::{planters, plantings, recommendations, season_fields, season_planters};
use crate::http::ApiError;
use crate::learned::{cover_of, soil_of};
use crate::v1::practice::SeasonCalendar;

/// When something changed: its season is counted anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Changed {
    /// At a moment.
    At(DateTime<Utc>),
    /// On a day.
    On(NaiveDate),
}

/// Counts the seasons of a field behind a planter anew in which something changed.
pub async fn keep(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    land: Land,
    changed: &[Changed],
) -> Result<(), ApiError> {
    let calendar = SeasonCalendar::hold(tx, practice_id).await?;
    let Some(grower_id) = hold_planter(tx, practice_id, land.planter_id).await? else {
        return Ok(());
    };
    let seasons: BTreeSet<i32> = changed
        .iter()
        .map(|it| match it {
            Changed::At(at) => calendar.season_of(*at),
            Changed::On(day) => calendar.season_of_day(*day),
        })
        .collect();
    let mut lands = happened(tx, practice_id, Which::One(land)).await?;
    let here = lands.remove(&land).unwrap_or_default();
    for season in seasons {
        let place = Place { practice_id, season, land, grower_id };
        store_field(tx, place, &here, &calendar).await?;
        store_planter(tx, place).await?;
    }
    Ok(())
}

/// The same after a step of a recommendation: issued, seen.
pub async fn keep_sheet(
    tx: &DatabaseTransaction,
    row: &recommendations::Model,
) -> Result<(), ApiError> {
    let moments = [row.issued_at, row.acknowledged_at];
    let changed: Vec<Changed> = moments.into_iter().flatten().map(Changed::At).collect();
    let land = Land { planter_id: row.planter_id, field_id: row.field_id };
    keep(tx, row.practice_id, land, &changed).await
}

/// The same after the decision on a change that a dig proposed.
pub async fn keep_decision(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    dig_check_id: Uuid,
) -> Result<(), ApiError> {
    use crate::entities::season_digs::{Column, Entity};
    let found: Option<(Uuid, Uuid, DateTime<Utc>)> =
        Entity::find_by_id((practice_id, dig_check_id))
            .select_only()
            .columns([Column::PlanterId, Column::FieldId, Column::DugAt])
            .into_tuple()
            .one(tx)
            .await?;
    let Some((planter_id, field_id, dug_at)) = found else { return Ok(()) };
    keep(tx, practice_id, Land { planter_id, field_id }, &[Changed::At(dug_at)]).await
}

/// The same for a planting that was reported, and for how it was reported before.
pub async fn keep_plantings(
    tx: &DatabaseTransaction,
    rows: &[&plantings::Model],
) -> Result<(), ApiError> {
    // Whoever holds two planters takes them in one order.
    let mut rows = rows.to_vec();
    rows.sort_by_key(|row| row.planter_id);
    for row in rows {
        let land = Land { planter_id: row.planter_id, field_id: row.field_id };
        keep(tx, row.practice_id, land, &[Changed::On(row.planted_on)]).await?;
    }
    Ok(())
}

/// Holds a planter until the transaction ends; gives its grower.
async fn hold_planter(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    id: Uuid,
) -> Result<Option<Uuid>, ApiError> {
    // Rows that refer to the planter may come in meanwhile.
    let held = planters::Entity::find_by_id((practice_id, id))
        .lock(LockType::NoKeyUpdate)
        .select_only()
        .column(planters::Column::GrowerId)
        .into_tuple()
        .one(tx)
        .await?;
    Ok(held)
}

/// A season of a field.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub practice_id: Uuid,
    pub season: i32,
    pub land: Land,
    pub grower_id: Uuid,
}

/// The row of a field; none where there is nothing in it.
pub(super) fn field_row(
    place: Place,
    here: &Happened,
    calendar: &SeasonCalendar,
) -> Result<Option<(season_fields::ActiveModel, Sums)>, ApiError> {
    let (sums, look, class): (Sums, FieldLook, SoilClass) = here.sums(place.season, calendar);
    if sums.is_empty() {
        return Ok(None);
    }
    let row = season_fields::ActiveModel {
        practice_id: Set(place.practice_id),
        season: Set(place.season),
        planter_id: Set(place.land.planter_id),
        field_id: Set(place.land.field_id),
        grower_id: Set(place.grower_id),
        soil: Set(soil_of(class)),
        cover: Set(cover_of(class)),
        look: Set(text(&look)?),
        sums: Set(text(&sums)?),
    };
    Ok(Some((row, sums)))
}

/// The row of a planter.
pub(super) fn planter_row(
    place: Place,
    sums: &Sums,
) -> Result<season_planters::ActiveModel, ApiError> {
    Ok(season_planters::ActiveModel {
        practice_id: Set(place.practice_id),
        season: Set(place.season),
        planter_id: Set(place.land.planter_id),
        grower_id: Set(place.grower_id),
        sums: Set(text(sums)?),
    })
}

async fn store_field(
    tx: &DatabaseTransaction,
    place: Place,
    here: &Happened,
    calendar: &SeasonCalendar,
) -> Result<(), ApiError> {
    use season_fields::{Column, Entity};
    let Some((row, _)) = field_row(place, here, calendar)? else {
        let Place { practice_id, season, land, .. } = place;
        let key = (practice_id, season, land.planter_id, land.field_id);
        Entity::delete_by_id(key).exec(tx).await?;
        return Ok(());
    };
    let there = OnConflict::columns([
        Column::PracticeId,
        Column::Season,
        Column::PlanterId,
        Column::FieldId,
    ])
    .update_columns([Column::Soil, Column::Cover, Column::Look, Column::Sums])
    .to_owned();
    Entity::insert(row).on_conflict(there).exec_without_returning(tx).await?;
    Ok(())
}

async fn store_planter(tx: &DatabaseTransaction, place: Place) -> Result<(), ApiError> {
    use season_planters::{Column, Entity};
    let sums = planter_sums(tx, place).await?;
    if sums.is_empty() {
        let key = (place.practice_id, place.season, place.land.planter_id);
        Entity::delete_by_id(key).exec(tx).await?;
        return Ok(());
    }
    let there = OnConflict::columns([Column::PracticeId, Column::Season, Column::PlanterId])
        .update_column(Column::Sums)
        .to_owned();
    let row = planter_row(place, &sums)?;
    Entity::insert(row).on_conflict(there).exec_without_returning(tx).await?;
    Ok(())
}

async fn planter_sums(db: &impl ConnectionTrait, place: Place) -> Result<Sums, ApiError> {
    use season_fields::{Column, Entity};
    let fields: Vec<String> = Entity::find()
        .filter(Column::PracticeId.eq(place.practice_id))
        .filter(Column::Season.eq(place.season))
        .filter(Column::PlanterId.eq(place.land.planter_id))
        .select_only()
        .column(Column::Sums)
        .into_tuple()
        .all(db)
        .await?;
    let mut all = Sums::default();
    for field in fields {
        all.add(&read(&field)?);
    }
    Ok(all)
}
