//! Which stands are to be counted, and when.
//!
//! Four queries, however many plantings there are.

use std::collections::{HashMap, HashSet};

use chrono::{Days, NaiveDate};
use domain::stand::{Known, forecast};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder, QuerySelect, QueryTrait};
use serde_json::Value;
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{air_temperatures, fields, plantings, stand_counts};
use crate::http::ApiError;
use crate::v1::plantings::need::Need;
use crate::v1::temperatures::store::day_of;

/// A stand that was not counted so many days after planting is no longer asked for.
const ASKED_FOR: u64 = 90;

/// A planting whose stand was not counted yet, and the days on which a count tells most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandDue {
    /// The planting.
    pub planting_id: Uuid,
    /// Its field.
    pub field_id: Uuid,
    /// The day of planting.
    pub planted_on: NaiveDate,
    /// First day on which to count; it may lie ahead.
    pub from: NaiveDate,
    /// Last day on which to count; later is late, not too late.
    pub to: NaiveDate,
}

/// The plantings of the last 90 days whose stand was not counted, in the order in which it is to be
/// counted. Those to come are among them: due are those whose `from` is not after today, overdue
/// those whose `to` is before it.
pub async fn stands_due(
    db: &impl ConnectionTrait,
    scope: Scope,
    today: NaiveDate,
) -> Result<Vec<StandDue>, ApiError> {
    let since = today.checked_sub_days(Days::new(ASKED_FOR)).unwrap_or(today);
    let rows = uncounted(db, scope, (since, today)).await?;
    let known = temperatures(db, scope, since).await?;
    let nothing = Known::new();
    let mut due = Vec::with_capacity(rows.len());
    for Uncounted { planting_id, field_id, farm_id, planted_on, need } in rows {
        let need: Need = serde_json::from_value(need).map_err(ApiError::internal)?;
        let known = known.get(&farm_id).unwrap_or(&nothing);
        let count = forecast(&need.emergence, known, (planted_on, today), 0).count;
        due.push(StandDue { planting_id, field_id, planted_on, from: count.from, to: count.to });
    }
    due.sort_by_key(|it| (it.from, it.planted_on, it.planting_id));
    Ok(due)
}

struct Uncounted {
    planting_id: Uuid,
    field_id: Uuid,
    farm_id: Uuid,
    planted_on: NaiveDate,
    need: Value,
}

async fn uncounted(
    db: &impl ConnectionTrait,
    scope: Scope,
    (since, today): (NaiveDate, NaiveDate),
) -> Result<Vec<Uncounted>, ApiError> {
    use plantings::Column;
    let counted: Vec<Uuid> = scope
        .stand_counts()
        .select_only()
        .column(stand_counts::Column::PlantingId)
        .filter(stand_counts::Column::CountedOn.gte(since))
        .into_tuple()
        .all(db)
        .await?;
    let counted: HashSet<Uuid> = counted.into_iter().collect();
    let rows: Vec<(Uuid, Uuid, NaiveDate, Value)> = scope
        .plantings()
        .select_only()
        .columns([Column::Id, Column::FieldId, Column::PlantedOn, Column::Need])
        .filter(Column::PlantedOn.gte(since))
        .filter(Column::PlantedOn.lte(today))
        .into_tuple()
        .all(db)
        .await?;
    let planted = scope
        .plantings()
        .select_only()
        .column(Column::FieldId)
        .filter(Column::PlantedOn.gte(since))
        .into_query();
    let farms: Vec<(Uuid, Uuid)> = scope
        .fields()
        .select_only()
        .columns([fields::Column::Id, fields::Column::FarmId])
        .filter(fields::Column::Id.in_subquery(planted))
        .into_tuple()
        .all(db)
        .await?;
    let farms: HashMap<Uuid, Uuid> = farms.into_iter().collect();
    let open = rows.into_iter().filter(|(id, ..)| !counted.contains(id));
    let with_farm = open.filter_map(|(planting_id, field_id, planted_on, need)| {
        let farm_id = *farms.get(&field_id)?;
        Some(Uncounted { planting_id, field_id, farm_id, planted_on, need })
    });
    Ok(with_farm.collect())
}

/// The temperatures since a day, farm by farm.
async fn temperatures(
    db: &impl ConnectionTrait,
    scope: Scope,
    since: NaiveDate,
) -> Result<HashMap<Uuid, Known>, ApiError> {
    use air_temperatures::Column;
    let rows = scope.air_temperatures().filter(Column::Day.gte(since));
    let rows = rows.order_by_asc(Column::FarmId).order_by_asc(Column::Day).all(db).await?;
    let mut known: HashMap<Uuid, Known> = HashMap::new();
    for row in rows {
        if let Some(day) = day_of(&row) {
            known.entry(row.farm_id).or_default().insert(row.day, day);
        }
    }
    Ok(known)
}
