//! A day that comes in, checked.

use chrono::{Days, NaiveDate};
use domain::quantity::bounds;
use domain::stand::Day;
use serde::{Deserialize, Serialize};

use crate::entities::air_temperatures::DayKind;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, text};

/// Earliest day that is worth keeping.
const EARLIEST: NaiveDate = match NaiveDate::from_yo_opt(2000, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};
/// What is expected reaches no further than a season.
const LATEST_EXPECTED: u64 = 180;
/// The station where nobody names one.
const UNNAMED: &str = "farm";

/// Both temperatures, as they were entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entered {
    /// Highest temperature.
    pub high: Quantity,
    /// Lowest temperature.
    pub low: Quantity,
}

/// A day to be stored.
#[derive(Debug, Clone)]
pub struct NewDay {
    /// The line of the file, or the place in the list, from 1.
    pub line: u32,
    /// The day.
    pub date: NaiveDate,
    /// Measured or expected.
    pub kind: DayKind,
    /// Where it was measured.
    pub station: String,
    /// The temperatures.
    pub day: Day,
    /// The same, as entered.
    pub entered: Entered,
}

/// Where the members of a day stand, for what is said of them.
#[derive(Debug, Clone)]
pub(super) struct Places {
    /// Of the date.
    pub date: String,
    /// Of the highest temperature.
    pub high: String,
    /// Of the lowest temperature.
    pub low: String,
}

/// Checks a day. `today` is the last day that can have been measured.
pub(super) fn check(
    (line, date): (u32, NaiveDate),
    (kind, station): (DayKind, &str),
    entered: Entered,
    at: &Places,
    today: NaiveDate,
) -> Result<NewDay, Vec<BadMember>> {
    let mut bad = Vec::new();
    let last = match kind {
        DayKind::Measured => today,
        DayKind::Expected => today.checked_add_days(Days::new(LATEST_EXPECTED)).unwrap_or(today),
    };
    if !(EARLIEST..=last).contains(&date) {
        let detail = match kind {
            DayKind::Measured => "The day lies in the future, or before 2000.",
            DayKind::Expected => "The day lies too far in the future, or before 2000.",
        };
        let member = BadMember::new(&at.date, detail).given(date);
        bad.push(member.allowed(format!("{EARLIEST} to {last}")));
    }
    let high = entered.high.parse(&at.high, &bounds::AIR_TEMPERATURE);
    let low = entered.low.parse(&at.low, &bounds::AIR_TEMPERATURE);
    let day = match (high, low) {
        (Ok(high), Ok(low)) => Day::new(high, low).map_err(|error| {
            bad.push(
                BadMember::new(&at.low, format!("{}.", capital(&error.to_string())))
                    .given(format!("{} {}", entered.low.value, entered.low.unit))
                    .allowed(format!("at most {} {}", entered.high.value, entered.high.unit)),
            );
        }),
        (high, low) => {
            bad.extend(high.err());
            bad.extend(low.err());
            Err(())
        }
    };
    match day {
        Ok(day) if bad.is_empty() => {
            Ok(NewDay { line, date, kind, station: station.to_owned(), day, entered })
        }
        Ok(_) | Err(()) => Err(bad),
    }
}

/// The name of a station.
pub(super) fn station(pointer: &str, given: Option<&str>) -> Result<String, BadMember> {
    given.map_or_else(|| Ok(UNNAMED.to_owned()), |name| text::name(pointer, name))
}

fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
