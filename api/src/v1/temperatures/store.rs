//! Temperatures in the database. Every query starts from the caller's scope.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, Utc};
use domain::quantity::{Measured, Temperature};
use domain::stand::{Day, DayFrom, Known};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
    QueryOrder, QuerySelect,
};
use uuid::Uuid;

use super::days::{Entered, NewDay};
use super::dto::{DayOutcome, SentDay};
use crate::auth::Scope;
use crate::entities::air_temperatures::{ActiveModel, Column, DayKind, Entity, Model};
use crate::entities::farms;
use crate::http::ApiError;
use crate::http::quantity::six_digits;

/// Rows that go into one statement: a statement takes a limited number of values.
const AT_ONCE: usize = 500;

/// What is stored of days that are sent.
#[derive(Debug)]
pub struct Put {
    /// Day by day, in the order in which they came.
    pub sent: Vec<SentDay>,
    /// Days between the first and the last of them of which there is nothing.
    pub missing: Vec<NaiveDate>,
    /// Whether anything changed.
    pub changed: bool,
}

/// Who stores when.
#[derive(Debug, Clone, Copy)]
pub struct By {
    /// The account.
    pub account_id: Uuid,
    /// The time.
    pub now: DateTime<Utc>,
}

/// Stores days of a farm, or only says what would become of them.
pub async fn put(
    tx: &DatabaseTransaction,
    farm: &farms::Model,
    (by, new_id): (By, impl Fn() -> Uuid),
    days: Vec<NewDay>,
    dry_run: bool,
) -> Result<Put, ApiError> {
    let Some((first, last)) = span(&days) else {
        return Ok(Put { sent: Vec::new(), missing: Vec::new(), changed: false });
    };
    let scope = Scope::of_practice(farm.practice_id);
    let there = of_farm(tx, scope, farm.id, (first, last)).await?;
    let mut before: BTreeMap<NaiveDate, Model> =
        there.into_iter().map(|row| (row.day, row)).collect();
    let mut sent = Vec::with_capacity(days.len());
    let mut changed: BTreeMap<NaiveDate, Model> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    for new in days {
        let twice = !seen.insert(new.date);
        let (outcome, detail) = judge(before.get(&new.date), &new, twice);
        let (line, date) = (new.line, new.date);
        sent.push(SentDay { line, date: Some(date), outcome, column: None, detail });
        if matches!(outcome, DayOutcome::Taken | DayOutcome::Replaced) {
            let row = row_of(farm, by, before.get(&date), new, &new_id)?;
            before.insert(date, row.clone());
            changed.insert(date, row);
        }
    }
    let missing = first.iter_days().take_while(|day| *day <= last);
    let missing = missing.filter(|day| !before.contains_key(day)).collect();
    let any = !changed.is_empty();
    if !dry_run {
        write(tx, changed.into_values().collect()).await?;
    }
    Ok(Put { sent, missing, changed: any && !dry_run })
}

/// The days of a farm from a first to a last, in order.
pub async fn of_farm(
    db: &impl ConnectionTrait,
    scope: Scope,
    farm_id: Uuid,
    (first, last): (NaiveDate, NaiveDate),
) -> Result<Vec<Model>, ApiError> {
    let rows = scope.air_temperatures().filter(Column::FarmId.eq(farm_id));
    let rows = rows.filter(Column::Day.gte(first)).filter(Column::Day.lte(last));
    Ok(rows.order_by_asc(Column::Day).all(db).await?)
}

/// The same as the domain knows them.
pub async fn known(
    db: &impl ConnectionTrait,
    scope: Scope,
    farm_id: Uuid,
    span: (NaiveDate, NaiveDate),
) -> Result<Known, ApiError> {
    let rows = of_farm(db, scope, farm_id, span).await?;
    Ok(rows.iter().filter_map(|row| Some((row.day, day_of(row)?))).collect())
}

/// The temperatures of a row.
pub fn day_of(row: &Model) -> Option<(Day, DayFrom)> {
    let at = Temperature::from_si;
    let day = Day::new(at(row.high_k), at(row.low_k)).ok()?;
    let from = match row.kind {
        DayKind::Measured => DayFrom::Measured,
        DayKind::Expected => DayFrom::Expected,
    };
    Some((day, from))
}

/// A page of the days of a farm, after a day.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    farm_id: Uuid,
    filter: Filter,
) -> Result<Vec<Model>, ApiError> {
    let Filter { from, to, kind, after, limit } = filter;
    let mut rows = scope.air_temperatures().filter(Column::FarmId.eq(farm_id));
    if let Some(from) = from {
        rows = rows.filter(Column::Day.gte(from));
    }
    if let Some(to) = to {
        rows = rows.filter(Column::Day.lte(to));
    }
    if let Some(kind) = kind {
        rows = rows.filter(Column::Kind.eq(kind));
    }
    if let Some(after) = after {
        rows = rows.filter(Column::Day.gt(after));
    }
    Ok(rows.order_by_asc(Column::Day).limit(limit).all(db).await?)
}

/// Which days.
#[derive(Debug, Clone, Copy)]
pub struct Filter {
    /// First day.
    pub from: Option<NaiveDate>,
    /// Last day.
    pub to: Option<NaiveDate>,
    /// Only of this kind.
    pub kind: Option<DayKind>,
    /// Only after this day.
    pub after: Option<NaiveDate>,
    /// How many at most.
    pub limit: u64,
}

fn span(days: &[NewDay]) -> Option<(NaiveDate, NaiveDate)> {
    let dates = || days.iter().map(|day| day.date);
    Some((dates().min()?, dates().max()?))
}

/// What becomes of a day, beside what is there.
fn judge(before: Option<&Model>, new: &NewDay, twice: bool) -> (DayOutcome, Option<String>) {
    let Some(row) = before else { return (DayOutcome::Taken, None) };
    let same = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let there = same(row.high_k, new.day.high().si()) && same(row.low_k, new.day.low().si());
    if there && row.kind == new.kind && row.station == new.station {
        return (DayOutcome::Unchanged, None);
    }
    if row.kind == DayKind::Measured && new.kind == DayKind::Expected {
        let detail = "the day was measured: what is expected does not take its place";
        return (DayOutcome::Refused, Some(detail.to_owned()));
    }
    let was = was(row);
    let detail = if twice { format!("the day came twice; {was}") } else { was };
    (DayOutcome::Replaced, Some(detail))
}

fn was(row: &Model) -> String {
    let kind = match row.kind {
        DayKind::Measured => "measured at",
        DayKind::Expected => "expected at",
    };
    match serde_json::from_value::<Entered>(row.entered.clone()) {
        Ok(Entered { high, low }) => format!(
            "it was {} {} and {} {}, {kind} {}",
            six_digits(high.value),
            high.unit,
            six_digits(low.value),
            low.unit,
            row.station
        ),
        Err(_unread) => format!("it was {kind} {}", row.station),
    }
}

fn row_of(
    farm: &farms::Model,
    by: By,
    before: Option<&Model>,
    new: NewDay,
    new_id: &impl Fn() -> Uuid,
) -> Result<Model, ApiError> {
    Ok(Model {
        practice_id: farm.practice_id,
        id: before.map_or_else(new_id, |row| row.id),
        farm_id: farm.id,
        day: new.date,
        kind: new.kind,
        station: new.station,
        high_k: new.day.high().si(),
        low_k: new.day.low().si(),
        entered: serde_json::to_value(&new.entered).map_err(ApiError::internal)?,
        created_at: before.map_or(by.now, |row| row.created_at),
        created_by: by.account_id,
        updated_at: by.now,
    })
}

async fn write(tx: &DatabaseTransaction, rows: Vec<Model>) -> Result<(), ApiError> {
    let replace = OnConflict::columns([Column::PracticeId, Column::FarmId, Column::Day])
        .update_columns([
            Column::Kind,
            Column::Station,
            Column::HighK,
            Column::LowK,
            Column::Entered,
            Column::CreatedBy,
            Column::UpdatedAt,
        ])
        .to_owned();
    for part in rows.chunks(AT_ONCE) {
        let rows = part.iter().cloned().map(active);
        Entity::insert_many(rows).on_conflict(replace.clone()).exec_without_returning(tx).await?;
    }
    Ok(())
}

fn active(row: Model) -> ActiveModel {
    let Model {
        practice_id,
        id,
        farm_id,
        day,
        kind,
        station,
        high_k,
        low_k,
        entered,
        created_at,
        created_by,
        updated_at,
    } = row;
    ActiveModel {
        practice_id: Set(practice_id),
        id: Set(id),
        farm_id: Set(farm_id),
        day: Set(day),
        kind: Set(kind),
        station: Set(station),
        high_k: Set(high_k),
        low_k: Set(low_k),
        entered: Set(entered),
        created_at: Set(created_at),
        created_by: Set(created_by),
        updated_at: Set(updated_at),
    }
}
