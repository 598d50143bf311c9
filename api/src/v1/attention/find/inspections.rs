//! Planters that nobody has inspected before planting begins.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Func, Query};
use sea_orm::{ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::words::{count, day};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};
use crate::http::ApiError;

/// An inspection counts for a season from so many days before planting begins: from the end of the
/// last one.
const COUNTS_FROM: i64 = 240;
/// How long after planting has begun it still is of use.
const OF_USE_FOR: i64 = 45;

#[derive(Debug, FromQueryResult)]
struct Planter {
    id: Uuid,
    grower_id: Uuid,
    created_at: DateTime<Utc>,
}

#[derive(Debug, FromQueryResult)]
struct Newest {
    planter_id: Uuid,
    inspected_on: NaiveDate,
}

/// The planters to inspect, from some days before planting begins.
pub(super) async fn due(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let begins = asking.limits.planting_begins(&asking.calendar, asking.today);
    if (asking.today - begins).num_days() > OF_USE_FOR {
        return Ok(Vec::new());
    }
    let newest = newest(asking).await?;
    let since = begins - TimeDelta::days(COUNTS_FROM);
    let planters = planters(asking).await?;
    let open =
        planters.iter().filter(|planter| newest.get(&planter.id).is_none_or(|on| *on < since));
    Ok(open.map(|planter| one(asking, planter, begins, newest.get(&planter.id).copied())).collect())
}

fn one(
    asking: &Asking<'_>,
    planter: &Planter,
    begins: NaiveDate,
    last: Option<NaiveDate>,
) -> Found {
    let days = asking.limits.inspection_days;
    let left = (begins - asking.today).num_days();
    let last = match last {
        Some(on) => format!("last inspected on {} {}", day(on), on.format("%Y")),
        None => "never inspected".to_owned(),
    };
    let when = if left >= 0 {
        format!("planting begins in {} (limit {})", count(left, "day"), count(days, "day"))
    } else {
        format!("planting began {} ago", count(-left, "day"))
    };
    Found {
        kind: AttentionKind::InspectionDue,
        matter: planter.id,
        object: (AttentionObjectKind::Planter, planter.id),
        grower_id: Some(planter.grower_id),
        field_id: None,
        planter_id: Some(planter.id),
        event_at: planter.created_at,
        from: asking.calendar.begins(begins - TimeDelta::days(days)),
        due: begins,
        urgency: if left <= 3 { Urgency::Soon } else { Urgency::WhenYouCan },
        reason: format!("The planter was {last}, and {when}."),
        next: match asking.voice {
            Voice::Advisor => "Inspect it front to back, or ask the grower to.",
            Voice::Grower => "Inspect the planter front to back before it goes out.",
        },
    }
}

async fn planters(asking: &Asking<'_>) -> Result<Vec<Planter>, ApiError> {
    let mut rows = Query::select()
        .columns(["id", "grower_id", "created_at"])
        .from("planters")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .to_owned();
    asking.of_growers(&mut rows, ("planters", "grower_id"));
    let rows = asking.db.query_all(&rows).await?;
    Ok(rows.iter().map(|row| Planter::from_query_result(row, "")).collect::<Result<_, _>>()?)
}

async fn newest(asking: &Asking<'_>) -> Result<HashMap<Uuid, NaiveDate>, ApiError> {
    let rows = Query::select()
        .column("planter_id")
        .expr_as(Func::max(Expr::col("inspected_on")), "inspected_on")
        .from("inspections")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .group_by_col("planter_id")
        .to_owned();
    let rows = asking.db.query_all(&rows).await?;
    let rows = rows.iter().map(|row| Newest::from_query_result(row, ""));
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    Ok(rows.into_iter().map(|row| (row.planter_id, row.inspected_on)).collect())
}
