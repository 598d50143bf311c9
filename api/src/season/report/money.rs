//! Land, hours and costs, as they were reported.

use domain::quantity::{Area, Measured, Time};
use domain::season::report::{MoneyAndTime, MoneyLine};
use sea_orm::sea_query::{Expr, ExprTrait, Func, SimpleExpr};
use sea_orm::{
    ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect, Select,
};

use crate::entities::plantings::Column;
use crate::entities::repairs;
use crate::http::ApiError;
use crate::season::gather::Of;

/// Plantings, their area; those with hours, their area, the hours.
type Worked = (i64, Option<f64>, i64, Option<f64>, Option<f64>);

/// Added up by the database.
pub(super) async fn money_and_time(
    db: &impl ConnectionTrait,
    of: Of,
) -> Result<MoneyAndTime, ApiError> {
    let (first, next) = of.days();
    let mut rows = of
        .scope
        .plantings()
        .filter(Column::PlantedOn.gte(first))
        .filter(Column::PlantedOn.lt(next));
    if let Some(planter_id) = of.planter_id {
        rows = rows.filter(Column::PlanterId.eq(planter_id));
    }
    let with_hours: SimpleExpr =
        Expr::case(Expr::col(Column::Hours).is_not_null(), Expr::col(Column::AreaM2)).into();
    let found: Option<Worked> = rows
        .select_only()
        .column_as(Column::Id.count(), "plantings")
        .column_as(Column::AreaM2.sum(), "planted")
        .column_as(Column::Hours.count(), "with_hours")
        .column_as(SimpleExpr::from(Func::sum(with_hours)), "planted_with_hours")
        .column_as(Column::Hours.sum(), "hours")
        .into_tuple()
        .one(db)
        .await?;
    let (plantings, planted, timed, planted_timed, hours) = found.unwrap_or_default();
    let count = |number: i64| u32::try_from(number).map_err(ApiError::internal);
    Ok(MoneyAndTime {
        plantings: count(plantings)?,
        planted: Area::from_si(planted.unwrap_or_default()),
        plantings_with_hours: count(timed)?,
        planted_with_hours: Area::from_si(planted_timed.unwrap_or_default()),
        hours: Time::from_si(hours.unwrap_or_default() * 3600.0),
        money: money(db, of).await?,
    })
}

/// What plantings and repairs cost, by currency, where somebody said so.
async fn money(db: &impl ConnectionTrait, of: Of) -> Result<Vec<MoneyLine>, ApiError> {
    let (first, next) = of.days();
    let mut plantings = of
        .scope
        .plantings()
        .filter(Column::PlantedOn.gte(first))
        .filter(Column::PlantedOn.lt(next));
    let mut repairs = of
        .scope
        .repairs()
        .filter(repairs::Column::RepairedOn.gte(first))
        .filter(repairs::Column::RepairedOn.lt(next));
    if let Some(planter_id) = of.planter_id {
        plantings = plantings.filter(Column::PlanterId.eq(planter_id));
        repairs = repairs.filter(repairs::Column::PlanterId.eq(planter_id));
    }
    let planted = (Column::CostCurrency, Column::CostAmount);
    let mended = (repairs::Column::CostCurrency, repairs::Column::CostAmount);
    let mut lines = by_currency(db, plantings, planted, "planting: seed, trip and work").await?;
    lines.extend(by_currency(db, repairs, mended, "repairs: parts and work").await?);
    Ok(lines)
}

async fn by_currency<E: EntityTrait, C: ColumnTrait>(
    db: &impl ConnectionTrait,
    rows: Select<E>,
    (currency, amount): (C, C),
    words: &str,
) -> Result<Vec<MoneyLine>, ApiError> {
    let found: Vec<(String, f64, i64)> = rows
        .filter(amount.is_not_null())
        .select_only()
        .column_as(currency, "currency")
        .column_as(amount.sum(), "amount")
        .column_as(amount.count(), "entries")
        .group_by(currency)
        .order_by_asc(currency)
        .into_tuple()
        .all(db)
        .await?;
    let line = |(currency, amount, entries)| {
        let entries = u32::try_from(entries).map_err(ApiError::internal)?;
        Ok(MoneyLine { words: words.to_owned(), currency, amount, entries })
    };
    found.into_iter().map(line).collect()
}
