//! When a crop comes up, and when to count its stand.

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};

use super::emergence::{Emergence, emergence};
use super::heat::{DayFrom, Heat, Known, heat};
use crate::conditions::{Conditions, Crop};
use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::Length;

/// No forecast goes further than this after planting: what has not come up by then will not.
const LONGEST: u64 = 90;
/// Days after emergence at which a stand is counted (North Carolina State University, corn).
pub const COUNT_AFTER: (u64, u64) = (14, 21);
/// Days to emergence where nobody knows a temperature: 12 to 13 for corn planted on 23 April, 22 to
/// 24 for 24 March (Illinois 2003); a week in warm soil.
const WITHOUT_TEMPERATURES: DaysToEmerge = DaysToEmerge { least: 7, likely: 13, most: 24 };

/// Days from planting to emergence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct DaysToEmerge {
    least: u64,
    likely: u64,
    most: u64,
}

/// Degree days to emergence of a planting: by field and depth, and by its date.
///
/// The corrections by date are from memory and say so: 10 to 25 more before 25 April, 50 to 70 less
/// after 15 May (corn, Wisconsin).
pub fn need_of(
    c: &Conditions,
    depth: Length,
    planted_on: NaiveDate,
    k: &Coefficients,
) -> Emergence {
    let mut need = emergence(c, depth, k);
    if c.crop != Crop::Corn {
        return need;
    }
    let by_date = match (planted_on.month(), planted_on.day()) {
        (1..=3, _) | (4, ..=24) => {
            Some(((10.0, 25.0), "10 to 25 more when planted before 25 April"))
        }
        (5, 16..) | (6..=8, _) => Some(((-70.0, -50.0), "50 to 70 less when planted after 15 May")),
        _ => None,
    };
    if let Some(((low, high), text)) = by_date {
        need.low = (need.low + low).max(0.0);
        need.likely = (need.likely + f64::midpoint(low, high)).max(0.0);
        need.high = (need.high + high).max(0.0);
        need.because.push(Reason::fixed(text, Mark::FromMemory, sources::WISCONSIN_BY_DATE));
    }
    need
}

/// How far a crop is, by the days that were measured or filled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EmergenceState {
    /// Less heat than the least that it takes.
    NotYet,
    /// As much as the least that it takes: the first plants may show.
    MayHaveBegun,
    /// As much as it likely takes.
    LikelyUp,
    /// As much as the most that it takes. What is not up now needs a look.
    Up,
}

/// When a crop comes up.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// Where it stands today.
    pub state: EmergenceState,
    /// Degree days up to today, °F; the least that they can be where days are missing.
    pub so_far: f64,
    /// First day on which it may come up; `None` where the days that are known do not reach it.
    pub earliest: Option<NaiveDate>,
    /// The likely day; `None` where days before it are missing, or where the known ones do not reach
    /// it.
    pub likely: Option<NaiveDate>,
    /// Last day; `None` where the known days do not reach it.
    pub latest: Option<NaiveDate>,
    /// The days on which to count the stand.
    pub count: CountWindow,
    /// Day by day.
    pub heat: Heat,
}

/// The days on which a count of the stand tells most: two to three weeks after emergence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CountWindow {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Whether it rests on temperatures up to emergence; else on how long emergence usually takes.
    pub by_temperature: bool,
}

/// Forecast for a planting, from the days that are known up to today and those that are expected.
///
/// Degree days count from the day after planting. A day that is missing may bring nothing or as much
/// as a day can: it widens the range.
pub fn forecast(
    need: &Emergence,
    known: &Known,
    (planted_on, today): (NaiveDate, NaiveDate),
    fill: u8,
) -> Forecast {
    let first = after(planted_on, 1);
    let end = known.last_key_value().map_or(planted_on, |(date, _)| *date);
    let whole = heat(known, (first, end.min(after(planted_on, LONGEST))), fill);
    let reach = |wanted: f64, with: Missing| reached(&whole, first, wanted, with);
    let found = (
        reach(need.low, Missing::Most),
        reach(need.likely, Missing::Stop),
        reach(need.high, Missing::Nothing),
    );
    let so_far = sum_to(&whole, today);
    Forecast {
        state: state(need, so_far),
        so_far,
        earliest: found.0,
        likely: found.1,
        latest: found.2,
        count: window(planted_on, found),
        heat: whole,
    }
}

/// What a day that is missing is taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Missing {
    Nothing,
    Most,
    Stop,
}

fn reached(whole: &Heat, first: NaiveDate, wanted: f64, with: Missing) -> Option<NaiveDate> {
    let mut sum = 0.0;
    let mut days = whole.days.iter().peekable();
    let mut missing = whole.missing.iter().peekable();
    for date in first.iter_days() {
        if days.peek().is_none() && missing.peek().is_none() {
            return None;
        }
        if let Some(day) = days.next_if(|day| day.date == date) {
            sum += day.degree_days;
        } else if missing.next_if(|day| **day == date).is_some() {
            match with {
                Missing::Nothing => {}
                Missing::Most => sum += super::degree_days::MOST_A_DAY,
                Missing::Stop => return None,
            }
        }
        if sum >= wanted - 1e-9 {
            return Some(date);
        }
    }
    None
}

fn sum_to(whole: &Heat, today: NaiveDate) -> f64 {
    let real = |from: DayFrom| matches!(from, DayFrom::Measured | DayFrom::Filled);
    let days = whole.days.iter().filter(|day| day.date <= today && real(day.from));
    days.map(|day| day.degree_days).sum()
}

fn state(need: &Emergence, so_far: f64) -> EmergenceState {
    if so_far >= need.high {
        EmergenceState::Up
    } else if so_far >= need.likely {
        EmergenceState::LikelyUp
    } else if so_far >= need.low {
        EmergenceState::MayHaveBegun
    } else {
        EmergenceState::NotYet
    }
}

type Found = (Option<NaiveDate>, Option<NaiveDate>, Option<NaiveDate>);

/// Two to three weeks after the likely day; without one, after the ends of the range, or after the
/// usual days to emergence.
fn window(planted_on: NaiveDate, (earliest, likely, latest): Found) -> CountWindow {
    let (start, end) = COUNT_AFTER;
    if let Some(likely) = likely {
        return CountWindow {
            from: after(likely, start),
            to: after(likely, end),
            by_temperature: true,
        };
    }
    if let Some((earliest, latest)) = earliest.zip(latest) {
        return CountWindow {
            from: after(earliest, start),
            to: after(latest, end),
            by_temperature: true,
        };
    }
    let DaysToEmerge { likely, .. } = WITHOUT_TEMPERATURES;
    let first = after(planted_on, likely + start);
    let from = earliest.map_or(first, |day| first.max(after(day, start)));
    CountWindow {
        from,
        to: after(planted_on, likely + end).max(after(from, end - start)),
        by_temperature: false,
    }
}

/// The days from planting to emergence where no temperature is known: least, likely, most.
pub const fn usual_days_to_emerge() -> (u64, u64, u64) {
    let DaysToEmerge { least, likely, most } = WITHOUT_TEMPERATURES;
    (least, likely, most)
}

fn after(date: NaiveDate, days: u64) -> NaiveDate {
    date.checked_add_days(Days::new(days)).unwrap_or(date)
}
