//! The newest seeding rate of each field of the planter's grower.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use domain::conditions::Crop;
use domain::settings::FieldSeed;
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder, QuerySelect};
use uuid::Uuid;

use super::dto::{FieldLeftOut, LeftOutReason, Sown};
use crate::auth::Scope;
use crate::entities::recommendations::Column;
use crate::entities::{fields, planters, recommendations};
use crate::http::ApiError;
use crate::v1::fields::store::area_of;
use crate::v1::practice::SeasonCalendar;
use crate::v1::recommendations::goals::GoalsIn;
use crate::v1::recommendations::store::{inputs_of, made_within, result_of, visible};

/// What was found.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    pub season: Option<i32>,
    pub corn: Vec<Sown>,
    pub soybean: Vec<Sown>,
    pub left_out: Vec<FieldLeftOut>,
}

/// The recommendation of a field that names a seeding rate, if any does.
type Newest = BTreeMap<Uuid, Option<Uuid>>;

/// Every field of the planter's grower: in it, or left out with the reason.
pub(super) async fn gather(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter: &planters::Model,
    season: Option<i32>,
    calendar: &SeasonCalendar,
) -> Result<Gathered, ApiError> {
    let season = match season {
        Some(season) => Some(season),
        None => newest_season(db, scope, planter.id, calendar).await?,
    };
    let newest = match season {
        Some(season) => newest(db, scope, planter.id, calendar.span(season)).await?,
        None => Newest::new(),
    };
    let rows = rows(db, scope, newest.values().flatten().copied().collect()).await?;
    let fields = scope
        .fields()
        .filter(fields::Column::Id.in_subquery(scope.field_ids_of(planter.grower_id)));
    let mut found = Gathered { season, ..Gathered::default() };
    for field in fields.order_by_asc(fields::Column::Name).all(db).await? {
        let named = newest.get(&field.id).copied();
        let row = named.flatten().and_then(|id| rows.get(&id));
        sort_in(&mut found, field, named.is_some(), row)?;
    }
    Ok(found)
}

fn sort_in(
    found: &mut Gathered,
    field: fields::Model,
    recommended: bool,
    row: Option<&recommendations::Model>,
) -> Result<(), ApiError> {
    let area = area_of(&field)?;
    let leave_out = |reason| FieldLeftOut::because(field.id, field.name.clone(), reason);
    let Some(row) = row else {
        found.left_out.push(leave_out(if recommended {
            LeftOutReason::SeedingRate
        } else {
            LeftOutReason::Recommendation
        }));
        return Ok(());
    };
    let Some(seeding) = result_of(row)?.seeding else {
        found.left_out.push(leave_out(LeftOutReason::SeedingRate));
        return Ok(());
    };
    let Some(area) = area else {
        found.left_out.push(leave_out(LeftOutReason::Area));
        return Ok(());
    };
    let sown = Sown {
        field_id: field.id,
        name: field.name,
        recommendation_id: row.id,
        status: row.status.into(),
        seed: FieldSeed { area, rate: seeding.choice.rate },
    };
    match inputs_of(row)?.field.crop {
        Crop::Corn => found.corn.push(sown),
        Crop::Soybean => found.soybean.push(sown),
    }
    Ok(())
}

/// The season of the newest recommendation with the planter.
async fn newest_season(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
    calendar: &SeasonCalendar,
) -> Result<Option<i32>, ApiError> {
    let newest: Option<DateTime<Utc>> = visible(scope)
        .filter(Column::PlanterId.eq(planter_id))
        .order_by_desc(Column::CreatedAt)
        .select_only()
        .column(Column::CreatedAt)
        .into_tuple()
        .one(db)
        .await?;
    Ok(newest.map(|at| calendar.season_of(at)))
}

/// For each field with a recommendation in the season: the newest that names a rate or a stand.
async fn newest(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
    span: (DateTime<Utc>, DateTime<Utc>),
) -> Result<Newest, ApiError> {
    let rows: Vec<(Uuid, Uuid, serde_json::Value)> = made_within(visible(scope), span)
        .filter(Column::PlanterId.eq(planter_id))
        .order_by_desc(Column::CreatedAt)
        .order_by_desc(Column::Id)
        .select_only()
        .columns([Column::FieldId, Column::Id, Column::Goals])
        .into_tuple()
        .all(db)
        .await?;
    let mut newest = Newest::new();
    for (field_id, id, goals) in rows {
        let goals: GoalsIn = serde_json::from_value(goals).map_err(ApiError::internal)?;
        let known = newest.entry(field_id).or_default();
        *known = known.or_else(|| goals.seeding.map(|_| id));
    }
    Ok(newest)
}

/// Most ids of one query: databases bound the parameters of a statement.
const AT_ONCE: usize = 200;

async fn rows(
    db: &impl ConnectionTrait,
    scope: Scope,
    ids: Vec<Uuid>,
) -> Result<BTreeMap<Uuid, recommendations::Model>, ApiError> {
    let mut found = BTreeMap::new();
    for some in ids.chunks(AT_ONCE) {
        let rows = visible(scope).filter(Column::Id.is_in(some.iter().copied())).all(db).await?;
        found.extend(rows.into_iter().map(|row| (row.id, row)));
    }
    Ok(found)
}
