//! Sheets that were issued and that nobody has confirmed to have seen.

use chrono::TimeDelta;

use super::sheets::Sheet;
use super::words::{ago, day};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};

/// Those not seen, from some hours after they were issued, or from the day of planting if that is
/// sooner.
pub(super) fn sheets(asking: &Asking<'_>, sheets: &[Sheet]) -> Vec<Found> {
    let unseen = sheets.iter().filter(|sheet| sheet.acknowledged_at.is_none());
    unseen.map(|sheet| one(asking, sheet)).collect()
}

fn one(asking: &Asking<'_>, sheet: &Sheet) -> Found {
    let hours = asking.limits.sheet_unseen_hours;
    let waited = sheet.issued_at + TimeDelta::hours(hours);
    let planned = sheet.planned_on().filter(|day| *day >= asking.calendar.today(sheet.issued_at));
    let from = match planned {
        Some(day) => waited.min(asking.calendar.begins(day).max(sheet.issued_at)),
        None => waited,
    };
    let soon_planted = planned.is_some_and(|day| (day - asking.today).num_days() <= 1);
    let long = asking.now >= sheet.issued_at + TimeDelta::hours(hours.saturating_mul(3));
    let planting = planned.map(|it| format!("; planting is planned for {}", day(it)));
    let planting = planting.unwrap_or_default();
    let issued = ago(asking, sheet.issued_at);
    Found {
        kind: AttentionKind::SheetUnseen,
        matter: sheet.series_id,
        object: (AttentionObjectKind::Recommendation, sheet.id),
        grower_id: Some(sheet.grower_id),
        field_id: Some(sheet.field_id),
        planter_id: Some(sheet.planter_id),
        event_at: sheet.issued_at,
        from,
        due: planned.unwrap_or_else(|| asking.calendar.today(waited)),
        urgency: if soon_planted || long { Urgency::Now } else { Urgency::Soon },
        reason: match asking.voice {
            Voice::Advisor => {
                format!(
                    "Issued {issued} ago and not confirmed as seen (limit {hours} h){planting}."
                )
            }
            Voice::Grower => format!("Your advisor sent this sheet {issued} ago{planting}."),
        },
        next: match asking.voice {
            Voice::Advisor => "Call the grower, or send the sheet another way.",
            Voice::Grower => "Open the sheet, set the planter by it, and confirm that you saw it.",
        },
    }
}
