//! Land and hours, as they were reported.

use domain::quantity::{Area, Measured, Time};
use domain::season::report::MoneyAndTime;
use sea_orm::sea_query::{Expr, ExprTrait, Func, SimpleExpr};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};

use crate::entities::plantings::Column;
use crate::http::ApiError;
use crate::season::gather::Of;

/// Plantings, their area; those with hours, their area, the hours.
type Worked = (i64, Option<f64>, i64, Option<f64>, Option<f64>);

/// Added up by the database. Nobody enters prices of a season yet, so there is no money in it.
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
        money: Vec::new(),
    })
}
