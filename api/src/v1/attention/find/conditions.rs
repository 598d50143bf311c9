//! Sheets that are still to be planted by, and that rest on conditions seen some time ago.

use chrono::{NaiveDate, TimeDelta};

use super::digs::Done;
use super::digs_overdue::blank;
use super::sheets::Sheet;
use super::words::{count, day};
use super::{Asking, AttentionKind, Found, Urgency, Voice};

/// Those neither planted nor dug, whose day of planting is still to come, where it is known.
pub(super) fn old(asking: &Asking<'_>, sheets: &[Sheet], done: &Done) -> Vec<Found> {
    let waits = |sheet: &&Sheet| {
        let still_to_come = sheet.planned_on().is_none_or(|on| on >= asking.today);
        let is_in = |on: &NaiveDate| *on >= asking.calendar.today(sheet.issued_at);
        let planted = done.planted.get(&sheet.field_id).is_some_and(is_in);
        still_to_come && !planted && !done.dug.contains_key(&sheet.id)
    };
    sheets.iter().filter(waits).map(|sheet| one(asking, sheet)).collect()
}

fn one(asking: &Asking<'_>, sheet: &Sheet) -> Found {
    let limit = asking.limits.conditions_days;
    let from = sheet.observed_at + TimeDelta::days(limit);
    let planned = sheet.planned_on();
    let near = planned.is_some_and(|on| (on - asking.today).num_days() <= 2);
    let for_day = planned.map(|on| format!("; planting is planned for {}", day(on)));
    Found {
        event_at: sheet.issued_at,
        from,
        due: planned.unwrap_or_else(|| asking.calendar.today(from)),
        urgency: if near { Urgency::Soon } else { Urgency::WhenYouCan },
        reason: format!(
            "The sheet rests on what was seen on {}, {} ago (limit {}){}.",
            day(asking.calendar.today(sheet.observed_at)),
            count((asking.now - sheet.observed_at).num_days(), "day"),
            count(limit, "day"),
            for_day.unwrap_or_default(),
        ),
        next: match asking.voice {
            Voice::Advisor => "Have the field looked at again and revise the sheet.",
            Voice::Grower => "Tell your advisor how the field looks now, before you plant.",
        },
        ..blank(sheet, AttentionKind::ConditionsOld)
    }
}
