//! Fields that were planted, or whose sheet was seen, and where nobody has dug.

use chrono::{NaiveDate, TimeDelta};

use super::digs::Done;
use super::sheets::Sheet;
use super::words::{count, day};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};

/// Those without a dig behind the sheet that counts.
pub(super) fn overdue(asking: &Asking<'_>, sheets: &[Sheet], done: &Done) -> Vec<Found> {
    let undug = sheets.iter().filter(|sheet| !done.dug.contains_key(&sheet.id));
    undug.filter_map(|sheet| one(asking, sheet, done)).collect()
}

fn one(asking: &Asking<'_>, sheet: &Sheet, done: &Done) -> Option<Found> {
    let issued_on = asking.calendar.today(sheet.issued_at);
    let planted = done.planted.get(&sheet.field_id).copied().filter(|on| *on >= issued_on);
    match planted {
        Some(on) => Some(after_planting(asking, sheet, on)),
        None => after_seeing(asking, sheet),
    }
}

/// Planting is reported: the dig is late when its hours are over, counted from the end of the day.
fn after_planting(asking: &Asking<'_>, sheet: &Sheet, on: NaiveDate) -> Found {
    let hours = asking.limits.dig_after_planting_hours;
    let from = asking.calendar.begins(next_day(on, 1)) + TimeDelta::hours(hours);
    let days = (asking.today - on).num_days();
    Found {
        event_at: sheet.acknowledged_at.unwrap_or(sheet.issued_at),
        from,
        due: asking.calendar.today(from),
        urgency: Urgency::Now,
        reason: format!(
            "Planted on {} and no dig has come in, {} later (limit {hours} h after that day).",
            day(on),
            count(days, "day")
        ),
        next: match asking.voice {
            Voice::Advisor => {
                "Have the grower dig behind the planter, in the next field if this one is done."
            }
            Voice::Grower => "Dig behind the planter and send what you find; it takes ten minutes.",
        },
        ..blank(sheet, AttentionKind::DigOverdue)
    }
}

/// The sheet was seen; whether the field is planted nobody has said.
fn after_seeing(asking: &Asking<'_>, sheet: &Sheet) -> Option<Found> {
    let seen = sheet.acknowledged_at?;
    let limit = asking.limits.dig_after_seen_days;
    let seen_on = asking.calendar.today(seen);
    let by_limit = next_day(seen_on, limit);
    // Nobody digs before the day on which planting is planned.
    let due = sheet.planned_on().map_or(by_limit, |on| by_limit.max(next_day(on, 1)));
    let late = (asking.today - due).num_days();
    Some(Found {
        event_at: seen,
        from: asking.calendar.begins(due),
        due,
        urgency: if late >= limit { Urgency::Now } else { Urgency::Soon },
        reason: format!(
            "The sheet was seen on {}; {} later no dig has come in and no planting is reported (limit {}).",
            day(seen_on),
            count((asking.today - seen_on).num_days(), "day"),
            count(limit, "day"),
        ),
        next: match asking.voice {
            Voice::Advisor => "Ask whether the field is planted; if it is, have a dig made.",
            Voice::Grower => {
                "If the field is planted, say so and dig; if not, nothing is late yet."
            }
        },
        ..blank(sheet, AttentionKind::DigOverdue)
    })
}

/// What stays to be filled in.
pub(super) fn blank(sheet: &Sheet, kind: AttentionKind) -> Found {
    Found {
        kind,
        matter: sheet.series_id,
        object: (AttentionObjectKind::Recommendation, sheet.id),
        grower_id: Some(sheet.grower_id),
        field_id: Some(sheet.field_id),
        planter_id: Some(sheet.planter_id),
        event_at: sheet.issued_at,
        from: sheet.issued_at,
        due: sheet.issued_at.date_naive(),
        urgency: Urgency::Soon,
        reason: String::new(),
        next: "",
    }
}

fn next_day(day: NaiveDate, days: i64) -> NaiveDate {
    day.checked_add_signed(TimeDelta::days(days)).unwrap_or(day)
}
