//! Of whom a report is, of which season, and how far that is.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::Named;

/// Of whom a report is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReportOf {
    /// All that the reader sees of the practice.
    Practice,
    /// A grower.
    Grower,
    /// A planter.
    Planter,
    /// The growers that an advisor looks after now.
    Advisor,
}

/// Of whom, of which season, and how far that is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct About {
    /// Of whom.
    pub of: ReportOf,
    /// The grower, planter or advisor; none for the practice.
    pub subject: Option<Named>,
    /// Name of the practice.
    pub practice: String,
    /// The season, named by the year in which it ends.
    pub season: i32,
    /// Its first day.
    pub first_day: NaiveDate,
    /// Its last day.
    pub last_day: NaiveDate,
    /// The time zone of the days.
    pub time_zone: String,
    /// When the figures were read.
    pub as_of: DateTime<Utc>,
    /// How far the season is.
    pub so_far: SoFar,
    /// Growers with a recommendation or a dig in the season, those who left among them.
    pub growers: u32,
    /// Those of them who left: erased since. They count without a name.
    pub growers_left: u32,
    /// Their planters in use.
    pub planters: u32,
    /// Fields.
    pub fields: u32,
    /// Digs; one that was sent twice counts once.
    pub digs: u32,
}

/// How far a season is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SoFar {
    /// Days that have begun; 0 before the season.
    pub days: u32,
    /// Days of the season.
    pub of: u32,
    /// In words: `complete`, or how far.
    pub words: String,
}

impl SoFar {
    /// How far a season is on a day; `next` is the first day of the season after.
    pub fn on(today: NaiveDate, first: NaiveDate, next: NaiveDate) -> Self {
        let between = |from: NaiveDate, to: NaiveDate| {
            u32::try_from((to - from).num_days().max(0)).unwrap_or(u32::MAX)
        };
        let of = between(first, next);
        let days = (between(first, today) + u32::from(today >= first)).min(of);
        let words = match days {
            0 => "the season has not begun".to_owned(),
            _ if today >= next => "complete".to_owned(),
            days => format!("day {days} of {of}: figures so far"),
        };
        Self { days, of, words }
    }
}

#[cfg(test)]
mod tests {
    use super::SoFar;

    #[test]
    fn half_a_season_says_how_far() {
        let day = |text: &str| text.parse().expect("a day");
        let on = |today| SoFar::on(day(today), day("2027-01-01"), day("2028-01-01"));
        assert_eq!(on("2026-12-31").words, "the season has not begun");
        assert_eq!(on("2027-01-01").words, "day 1 of 365: figures so far");
        assert_eq!(on("2027-12-31").words, "day 365 of 365: figures so far");
        assert_eq!((on("2028-01-01").words.as_str(), on("2028-06-01").days), ("complete", 365));
    }
}
