//! Planters that go by pressure and whose pressure nobody has measured, or not for long.

use std::collections::HashMap;

use chrono::{DateTime, Months, NaiveDate, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Func, Query};
use sea_orm::{ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::sheets::Sheet;
use super::words::day;
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};
use crate::http::ApiError;

#[derive(Debug, FromQueryResult)]
struct Planter {
    id: Uuid,
    grower_id: Uuid,
    updated_at: DateTime<Utc>,
    down_force: Option<String>,
}

#[derive(Debug, FromQueryResult)]
struct Newest {
    planter_id: Uuid,
    calibrated_on: NaiveDate,
}

/// A planter with what its sheets say of it.
struct Used<'a> {
    planter: &'a Planter,
    /// Fields it has a sheet for.
    sheets: usize,
    /// The first of its sheets of this season.
    first_issued: DateTime<Utc>,
    /// The first day of planting that is still to come.
    planned: Option<NaiveDate>,
}

/// The planters that have a sheet this season.
pub(super) async fn missing_or_old(
    asking: &Asking<'_>,
    sheets: &[Sheet],
) -> Result<Vec<Found>, ApiError> {
    if sheets.is_empty() {
        return Ok(Vec::new());
    }
    let planters = by_pressure(asking).await?;
    let newest = newest(asking).await?;
    let mut of_planter: HashMap<Uuid, Vec<&Sheet>> = HashMap::new();
    for sheet in sheets {
        of_planter.entry(sheet.planter_id).or_default().push(sheet);
    }
    let found = planters.iter().filter_map(|planter| {
        let sheets = of_planter.get(&planter.id)?;
        let used = Used {
            planter,
            sheets: sheets.len(),
            first_issued: sheets.iter().map(|sheet| sheet.issued_at).min()?,
            planned: sheets
                .iter()
                .filter_map(|sheet| sheet.planned_on())
                .filter(|on| *on >= asking.today)
                .min(),
        };
        match newest.get(&planter.id) {
            Some(on) => Some(old(asking, &used, *on)),
            // A sheet may rest on one that is gone from the planter by now.
            None if sheets.iter().any(|sheet| sheet.calibration_id.is_some()) => None,
            None => Some(missing(asking, &used)),
        }
    });
    Ok(found.collect())
}

fn missing(asking: &Asking<'_>, used: &Used<'_>) -> Found {
    let bags = used.planter.down_force.as_deref() == Some("air_bag");
    let near = used.planned.is_some_and(|on| (on - asking.today).num_days() <= 2);
    let urgency = match (bags, near) {
        (true, true) => Urgency::Now,
        (true, false) => Urgency::Soon,
        // Bore and rod of a cylinder say something too.
        (false, _) => Urgency::WhenYouCan,
    };
    let (of, pressure) = if bags { ("bags", "air") } else { ("cylinders", "oil") };
    Found {
        kind: AttentionKind::CalibrationMissing,
        from: used.first_issued,
        due: used.planned.unwrap_or_else(|| asking.calendar.today(used.first_issued)),
        urgency,
        reason: format!(
            "Nobody has measured what force the {pressure} in its {of} gives; {} on this planter.",
            sheets(used.sheets)
        ),
        next: match asking.voice {
            Voice::Advisor => "Measure force against pressure at two points on one row.",
            Voice::Grower => {
                "Measure force against pressure at two points on one row, with your advisor."
            }
        },
        ..blank(used)
    }
}

fn old(asking: &Asking<'_>, used: &Used<'_>, on: NaiveDate) -> Found {
    let months = asking.limits.calibration_months;
    let until = on.checked_add_months(Months::new(months)).unwrap_or(NaiveDate::MAX);
    Found {
        kind: AttentionKind::CalibrationOld,
        from: asking.calendar.begins(until),
        due: until,
        urgency: Urgency::WhenYouCan,
        reason: format!(
            "Force against pressure was last measured on {} {} (limit {months} months); {} on it.",
            day(on),
            on.format("%Y"),
            sheets(used.sheets)
        ),
        next: "Measure force against pressure again at two points on one row.",
        ..blank(used)
    }
}

fn sheets(number: usize) -> String {
    if number == 1 { "1 sheet rests".to_owned() } else { format!("{number} sheets rest") }
}

fn blank(used: &Used<'_>) -> Found {
    let planter = used.planter;
    Found {
        kind: AttentionKind::CalibrationMissing,
        matter: planter.id,
        object: (AttentionObjectKind::Planter, planter.id),
        grower_id: Some(planter.grower_id),
        field_id: None,
        planter_id: Some(planter.id),
        event_at: planter.updated_at,
        from: used.first_issued,
        due: used.first_issued.date_naive(),
        urgency: Urgency::WhenYouCan,
        reason: String::new(),
        next: "",
    }
}

/// The planters whose down force is set by a pressure.
async fn by_pressure(asking: &Asking<'_>) -> Result<Vec<Planter>, ApiError> {
    let kind = "makeup -> 'down_force' ->> 'kind'";
    let mut rows = Query::select()
        .columns(["id", "grower_id", "updated_at"])
        .expr_as(Expr::cust(kind), "down_force")
        .from("planters")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .and_where(Expr::cust(format!("({kind}) IN ('air_bag', 'hydraulic')")))
        .to_owned();
    asking.of_growers(&mut rows, ("planters", "grower_id"));
    let rows = asking.db.query_all(&rows).await?;
    Ok(rows.iter().map(|row| Planter::from_query_result(row, "")).collect::<Result<_, _>>()?)
}

/// The day of the newest calibration of each planter.
async fn newest(asking: &Asking<'_>) -> Result<HashMap<Uuid, NaiveDate>, ApiError> {
    let rows = Query::select()
        .column("planter_id")
        .expr_as(Func::max(Expr::col("calibrated_on")), "calibrated_on")
        .from("calibrations")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .group_by_col("planter_id")
        .to_owned();
    let rows = asking.db.query_all(&rows).await?;
    let rows = rows.iter().map(|row| Newest::from_query_result(row, ""));
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    Ok(rows.into_iter().map(|row| (row.planter_id, row.calibrated_on)).collect())
}
