//! Days and numbers as people say them.

use chrono::{DateTime, NaiveDate, Utc};

use super::Asking;

/// A day: `4 May`.
pub(super) fn day(day: NaiveDate) -> String {
    day.format("%-d %B").to_string()
}

/// A number with its noun: `1 day`, `3 days`.
pub(super) fn count(number: i64, noun: &str) -> String {
    let end = if number == 1 { "" } else { "s" };
    format!("{number} {noun}{end}")
}

/// Several things in a sentence: `a, b and c`.
pub(super) fn listed(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// How long ago something was, in hours up to two days, then in days.
pub(super) fn ago(asking: &Asking<'_>, at: DateTime<Utc>) -> String {
    let since = asking.now - at;
    if since.num_hours() < 1 {
        "less than an hour".to_owned()
    } else if since.num_hours() < 48 {
        count(since.num_hours(), "hour")
    } else {
        count(since.num_days(), "day")
    }
}

#[cfg(test)]
mod tests {
    use super::{count, day, listed};

    #[test]
    fn days_and_numbers() {
        assert_eq!(day("2027-05-04".parse().expect("a day")), "4 May");
        assert_eq!((count(1, "day"), count(0, "day")), ("1 day".to_owned(), "0 days".to_owned()));
        let things = ["a", "b", "c"].map(str::to_owned);
        let said = [&things[..1], &things[..2], &things[..]].map(listed);
        assert_eq!(said, ["a", "a and b", "a, b and c"]);
    }
}
