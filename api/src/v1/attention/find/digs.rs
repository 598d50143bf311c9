//! What was done in the fields this season: the newest dig of each sheet, the newest planting of
//! each field.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Func, Order, Query, WindowStatement};
use sea_orm::{ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::Asking;
use crate::http::ApiError;

/// The newest dig of a sheet.
#[derive(Debug, Clone, FromQueryResult)]
pub(super) struct NewestDig {
    pub recommendation_id: Uuid,
    pub id: Uuid,
    pub dug_at: DateTime<Utc>,
    /// Where the mean depth lies; none where no depth was measured.
    pub depth_side: Option<String>,
    /// What kind of change it asks for.
    pub asks: Option<String>,
}

#[derive(Debug, FromQueryResult)]
struct Planted {
    field_id: Uuid,
    planted_on: NaiveDate,
}

/// What was done.
#[derive(Debug, Default)]
pub(super) struct Done {
    /// The newest dig of each sheet, by sheet.
    pub dug: HashMap<Uuid, NewestDig>,
    /// The newest planting of each field, by field.
    pub planted: HashMap<Uuid, NaiveDate>,
}

/// All that was done.
pub(super) async fn done(asking: &Asking<'_>) -> Result<Done, ApiError> {
    let digs = newest_digs(asking).await?;
    Ok(Done {
        dug: digs.into_iter().map(|dig| (dig.recommendation_id, dig)).collect(),
        planted: plantings(asking)
            .await?
            .into_iter()
            .map(|it| (it.field_id, it.planted_on))
            .collect(),
    })
}

/// The index over outcomes has all of it; the judgements are not read.
async fn newest_digs(asking: &Asking<'_>) -> Result<Vec<NewestDig>, ApiError> {
    let newest_first = WindowStatement::partition_by("recommendation_id")
        .order_by("dug_at", Order::Desc)
        .order_by("id", Order::Desc)
        .to_owned();
    let columns = ["recommendation_id", "id", "dug_at", "depth_side", "asks"];
    let digs = Query::select()
        .columns(columns)
        .expr_window_as(Expr::cust("ROW_NUMBER()"), newest_first, "nth")
        .from("dig_checks")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .and_where(Expr::col("dug_at").gte(asking.season_began()))
        .to_owned();
    let newest = Query::select()
        .columns(columns)
        .from_subquery(digs, "digs")
        .and_where(Expr::col("nth").eq(1))
        .to_owned();
    let rows = asking.db.query_all(&newest).await?;
    Ok(rows.iter().map(|row| NewestDig::from_query_result(row, "")).collect::<Result<_, _>>()?)
}

async fn plantings(asking: &Asking<'_>) -> Result<Vec<Planted>, ApiError> {
    let (first, _) = asking.calendar.days(asking.calendar.season_of_day(asking.today));
    let newest = Query::select()
        .column("field_id")
        .expr_as(Func::max(Expr::col("planted_on")), "planted_on")
        .from("plantings")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .and_where(Expr::col("planted_on").gte(first))
        .group_by_col("field_id")
        .to_owned();
    let rows = asking.db.query_all(&newest).await?;
    Ok(rows.iter().map(|row| Planted::from_query_result(row, "")).collect::<Result<_, _>>()?)
}
