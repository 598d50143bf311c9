//! Growers who have a planter and no sheet, while others plant already.

use std::collections::HashSet;

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Func, Query};
use sea_orm::{ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::sheets::Sheet;
use super::words::count;
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};
use crate::http::ApiError;

/// From so many days before planting begins.
const BEFORE: i64 = 7;
/// Until so many days after: then the season has gone without them.
const AFTER: i64 = 45;

#[derive(Debug, FromQueryResult)]
struct Planter {
    grower_id: Uuid,
    since: DateTime<Utc>,
}

/// Those left out, once the first sheet of the season is issued to anybody. A grower is not told so
/// himself: it is for the advisor to do something.
pub(super) async fn without_sheet(
    asking: &Asking<'_>,
    sheets: &[Sheet],
) -> Result<Vec<Found>, ApiError> {
    let begins = asking.limits.planting_begins(&asking.calendar, asking.today);
    let since = (asking.today - begins).num_days();
    if asking.voice == Voice::Grower || sheets.is_empty() || !(-BEFORE..=AFTER).contains(&since) {
        return Ok(Vec::new());
    }
    let served: HashSet<Uuid> = sheets.iter().map(|sheet| sheet.grower_id).collect();
    let others = served.len();
    let with_planters = with_planters(asking).await?;
    let left_out = with_planters.into_iter().filter(|it| !served.contains(&it.grower_id));
    let found = left_out.map(|planter| Found {
        kind: AttentionKind::GrowerWithoutSheet,
        matter: planter.grower_id,
        object: (AttentionObjectKind::Grower, planter.grower_id),
        grower_id: Some(planter.grower_id),
        field_id: None,
        planter_id: None,
        event_at: planter.since,
        from: asking.calendar.begins(begins - TimeDelta::days(BEFORE)),
        due: begins,
        urgency: Urgency::WhenYouCan,
        reason: format!(
            "No sheet this season, while {} {} one.",
            count(i64::try_from(others).unwrap_or(i64::MAX), "other grower"),
            if others == 1 { "has" } else { "have" },
        ),
        next: "Ask whether the grower plants, and report a field's conditions.",
    });
    Ok(found.collect())
}

/// The growers who have a planter, with when they got the first.
async fn with_planters(asking: &Asking<'_>) -> Result<Vec<Planter>, ApiError> {
    let mut rows = Query::select()
        .column("grower_id")
        .expr_as(Func::min(Expr::col("created_at")), "since")
        .from("planters")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .group_by_col("grower_id")
        .to_owned();
    asking.of_growers(&mut rows, ("planters", "grower_id"));
    let rows = asking.db.query_all(&rows).await?;
    Ok(rows.iter().map(|row| Planter::from_query_result(row, "")).collect::<Result<_, _>>()?)
}
