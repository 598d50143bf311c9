//! The sheets that count now: issued this season, and not superseded.

use chrono::{DateTime, NaiveDate, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{ActiveEnum, ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::Asking;
use crate::entities::recommendations::Status;
use crate::http::ApiError;

/// A sheet that counts.
#[derive(Debug, Clone, FromQueryResult)]
pub(super) struct Sheet {
    pub id: Uuid,
    pub series_id: Uuid,
    pub grower_id: Uuid,
    pub field_id: Uuid,
    pub planter_id: Uuid,
    pub calibration_id: Option<Uuid>,
    pub issued_at: DateTime<Utc>,
    pub acknowledged_at: Option<DateTime<Utc>>,
    pub observed_at: DateTime<Utc>,
    /// The day of planting as it was planned, `YYYY-MM-DD`.
    planned: Option<String>,
}

impl Sheet {
    /// The day of planting as it was planned.
    pub(super) fn planned_on(&self) -> Option<NaiveDate> {
        self.planned.as_deref()?.parse().ok()
    }
}

/// All of them, in order of their series.
pub(super) async fn counting(asking: &Asking<'_>) -> Result<Vec<Sheet>, ApiError> {
    let practice = asking.scope.practice_id;
    let same = |one, other| Expr::col((one, "practice_id")).equals((other, "practice_id"));
    let counts = [Status::Issued, Status::Acknowledged].map(|status| status.to_value());
    let mut rows = Query::select()
        .columns([
            ("r", "id"),
            ("r", "series_id"),
            ("r", "field_id"),
            ("r", "planter_id"),
            ("r", "calibration_id"),
            ("r", "issued_at"),
            ("r", "acknowledged_at"),
            ("a", "grower_id"),
            ("c", "observed_at"),
        ])
        // Said so by both engines.
        .expr_as(Expr::cust("c.observations ->> 'planting_date'"), "planned")
        .from_as("recommendations", "r")
        .join_as(
            sea_orm::JoinType::InnerJoin,
            "fields",
            "f",
            same("f", "r").and(Expr::col(("f", "id")).equals(("r", "field_id"))),
        )
        .join_as(
            sea_orm::JoinType::InnerJoin,
            "farms",
            "a",
            same("a", "r").and(Expr::col(("a", "id")).equals(("f", "farm_id"))),
        )
        .join_as(
            sea_orm::JoinType::InnerJoin,
            "conditions_reports",
            "c",
            same("c", "r").and(Expr::col(("c", "id")).equals(("r", "conditions_id"))),
        )
        .and_where(Expr::col(("r", "practice_id")).eq(practice))
        .and_where(Expr::col(("r", "status")).is_in(counts))
        .and_where(Expr::col(("r", "issued_at")).gte(asking.season_began()))
        .to_owned();
    asking.of_growers(&mut rows, ("a", "grower_id"));
    let rows = asking.db.query_all(&rows).await?;
    let mut sheets = Vec::with_capacity(rows.len());
    for row in &rows {
        sheets.push(Sheet::from_query_result(row, "")?);
    }
    sheets.sort_unstable_by_key(|sheet| sheet.series_id);
    Ok(sheets)
}
