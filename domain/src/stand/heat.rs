//! Degree days of a stretch of days: day by day, summed, with the days that are missing named.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};

use super::degree_days::{Day, MOST_A_DAY};
use crate::quantity::{Measured, Temperature};

/// Where the temperatures of a day come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DayFrom {
    /// They were measured.
    Measured,
    /// They are what is expected of the day.
    Expected,
    /// They are the mean of the two days beside the gap: an assumption that was asked for.
    Filled,
    /// They are those of a normal day, for days to come that nobody entered: an assumption that was
    /// asked for.
    Normal,
}

/// The days that are known.
pub type Known = BTreeMap<NaiveDate, (Day, DayFrom)>;

/// One day of the sum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatDay {
    /// The day.
    pub date: NaiveDate,
    /// Where its temperatures come from.
    pub from: DayFrom,
    /// Its temperatures.
    pub day: Day,
    /// Its degree days, °F.
    pub degree_days: f64,
    /// Degree days up to and with this day, °F; days that are missing add nothing.
    pub sum: f64,
}

/// Degree days of a stretch.
#[derive(Debug, Clone, PartialEq)]
pub struct Heat {
    /// The days that are known or were filled in, in order.
    pub days: Vec<HeatDay>,
    /// The days that nobody knows.
    pub missing: Vec<NaiveDate>,
}

impl Heat {
    /// Sum of the days that are there, °F. With days missing it is the least that it can be.
    pub fn sum(&self) -> f64 {
        self.days.last().map_or(0.0, |day| day.sum)
    }

    /// The most that the sum can be, °F: a day that is missing brings at most 36.
    pub fn most(&self) -> f64 {
        self.sum() + MOST_A_DAY * crate::stats::count(self.missing.len())
    }
}

/// Degree days from a first to a last day.
///
/// A gap of at most `fill` days with a day on either side is filled with the mean of the two days
/// beside it; with 0 nothing is filled in. Every other missing day is named.
pub fn heat(known: &Known, (first, last): (NaiveDate, NaiveDate), fill: u8) -> Heat {
    let whole = filled(known, fill);
    let mut found = Heat { days: Vec::new(), missing: Vec::new() };
    let mut sum = 0.0;
    for date in first.iter_days().take_while(|date| *date <= last) {
        match whole.get(&date) {
            Some((day, from)) => {
                let degree_days = day.degree_days();
                sum += degree_days;
                found.days.push(HeatDay { date, from: *from, day: *day, degree_days, sum });
            }
            None => found.missing.push(date),
        }
    }
    found
}

/// The known days, and between them those of short gaps.
fn filled(known: &Known, fill: u8) -> Known {
    let mut whole = known.clone();
    for ((before, (a, _)), (after, (b, _))) in known.iter().zip(known.iter().skip(1)) {
        let gap = after.signed_duration_since(*before).num_days() - 1;
        if !(1..=i64::from(fill)).contains(&gap) {
            continue;
        }
        let Some(between) = between(a, b) else { continue };
        let dates = before.iter_days().skip(1).take_while(|date| date < after);
        whole.extend(dates.map(|date| (date, (between, DayFrom::Filled))));
    }
    whole
}

fn between(a: &Day, b: &Day) -> Option<Day> {
    let mean = |x: Temperature, y: Temperature| Temperature::from_si(f64::midpoint(x.si(), y.si()));
    Day::new(mean(a.high(), b.high()), mean(a.low(), b.low())).ok()
}

/// The known days, and from the day after the last of them up to a last day a normal one.
pub fn with_normal(mut known: Known, normal: Day, (first, last): (NaiveDate, NaiveDate)) -> Known {
    let newest = known.last_key_value().map(|(date, _)| *date);
    let start = newest.and_then(|date| date.checked_add_days(Days::new(1))).unwrap_or(first);
    let dates = start.max(first).iter_days().take_while(|date| *date <= last);
    known.extend(dates.map(|date| (date, (normal, DayFrom::Normal))));
    known
}
