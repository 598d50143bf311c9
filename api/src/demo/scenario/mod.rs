//! The invented practice: its people, planters, fields and weather. Nobody and nothing in it is
//! real.

pub(super) mod fields;
pub(super) mod make_up;
pub(super) mod people;
pub(super) mod place;
pub(super) mod planters;
pub(super) mod seen;
pub(super) mod weather;

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc};

/// The year of the season.
pub(super) const YEAR: i32 = 2026;

/// A day of the season; the first of January for a day that no calendar has.
pub(super) fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(YEAR, month, day).unwrap_or_default()
}

/// A time of day at the fields, as UTC: they lie six hours behind, five in summer time.
pub(super) fn at(day: NaiveDate, hour: u32, minute: u32) -> DateTime<Utc> {
    let clock = NaiveTime::from_hms_opt(hour, minute, 0).unwrap_or_default();
    day.and_time(clock).and_utc() + TimeDelta::hours(5)
}

/// Some days earlier.
pub(super) fn before(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_sub_days(Days::new(days)).unwrap_or(day)
}

/// Some days later.
pub(super) fn after(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_add_days(Days::new(days)).unwrap_or(day)
}
