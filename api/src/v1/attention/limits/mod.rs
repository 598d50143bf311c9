//! `/v1/attention-limits`: when something needs somebody. The figures that ship are ours: common
//! sense, from no source; a practice sets its own.

pub mod dto;
mod get;
mod store;
mod update;

use chrono::{Datelike, NaiveDate};
use sea_orm::{ConnectionTrait, EntityTrait};
use uuid::Uuid;

use crate::entities::attention_limits::{Entity, Model};
use crate::http::ApiError;
use crate::operations::Operations;
use crate::v1::practice::SeasonCalendar;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get).service(update::update);
}

/// A day of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DayOfYear {
    month: u32,
    day: u32,
}

impl DayOfYear {
    /// `MM-DD`; none of a day that is not in every year.
    pub fn read(text: &str) -> Option<Self> {
        let (month, day) = text.split_once('-')?;
        let number = |part: &str| {
            let digits = part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
            digits.then(|| part.parse::<u32>().ok()).flatten()
        };
        let (month, day) = (number(month)?, number(day)?);
        NaiveDate::from_ymd_opt(COMMON_YEAR, month, day)?;
        Some(Self { month, day })
    }
}

/// A year without a leap day.
const COMMON_YEAR: i32 = 2027;

impl std::fmt::Display for DayOfYear {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

/// When something needs somebody.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Hours after which a sheet that nobody saw needs somebody.
    pub sheet_unseen_hours: i64,
    /// Hours after the day of planting within which a dig should come in.
    pub dig_after_planting_hours: i64,
    /// Days after a sheet was seen within which a dig should come in.
    pub dig_after_seen_days: i64,
    /// Days that conditions hold.
    pub conditions_days: i64,
    /// Months that a calibration holds.
    pub calibration_months: u32,
    /// Days before planting begins at which a planter should be inspected.
    pub inspection_days: i64,
    /// The day on which planting begins.
    pub begins: DayOfYear,
}

impl Limits {
    /// What ships.
    pub const OURS: Self = Self {
        sheet_unseen_hours: 24,
        dig_after_planting_hours: 24,
        dig_after_seen_days: 3,
        conditions_days: 7,
        calibration_months: 24,
        inspection_days: 21,
        begins: DayOfYear { month: 4, day: 15 },
    };

    /// Those of a practice.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn load(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<Self, ApiError> {
        let kept = Entity::find_by_id(practice_id).one(db).await?;
        Ok(kept.as_ref().map_or(Self::OURS, Self::of))
    }

    fn of(row: &Model) -> Self {
        Self {
            sheet_unseen_hours: row.sheet_unseen_hours.into(),
            dig_after_planting_hours: row.dig_after_planting_hours.into(),
            dig_after_seen_days: row.dig_after_seen_days.into(),
            conditions_days: row.conditions_days.into(),
            calibration_months: u32::try_from(row.calibration_months)
                .unwrap_or(Self::OURS.calibration_months),
            inspection_days: row.inspection_days.into(),
            begins: DayOfYear::read(&row.planting_begins).unwrap_or(Self::OURS.begins),
        }
    }

    /// The day on which planting begins in the season of a day.
    pub fn planting_begins(&self, calendar: &SeasonCalendar, today: NaiveDate) -> NaiveDate {
        let (first, next) = calendar.days(calendar.season_of_day(today));
        let DayOfYear { month, day } = self.begins;
        let in_year = |year| NaiveDate::from_ymd_opt(year, month, day);
        [first.year(), next.year()]
            .into_iter()
            .filter_map(in_year)
            .find(|it| (first..next).contains(it))
            .unwrap_or(first)
    }
}

#[cfg(test)]
mod tests {
    use super::{DayOfYear, Limits};
    use crate::v1::practice::{SeasonCalendar, SeasonStart, zone};
    use chrono::NaiveDate;

    fn begins(starts: &str, begins: &str, today: &str) -> String {
        let starts = SeasonStart::parse("/", starts).expect("a day");
        let calendar = SeasonCalendar::new(zone("/", "UTC").expect("a zone"), starts);
        let begins = DayOfYear::read(begins).expect("a day");
        let today: NaiveDate = today.parse().expect("a day");
        Limits { begins, ..Limits::OURS }.planting_begins(&calendar, today).to_string()
    }

    #[test]
    fn planting_begins_once_a_season_north_and_south() {
        assert_eq!(begins("01-01", "04-15", "2027-01-01"), "2027-04-15");
        assert_eq!(begins("01-01", "04-15", "2027-12-31"), "2027-04-15");
        assert_eq!(begins("07-01", "10-01", "2027-07-01"), "2027-10-01");
        assert_eq!(begins("07-01", "10-01", "2028-06-30"), "2027-10-01");
        assert_eq!(begins("07-01", "02-01", "2027-08-01"), "2028-02-01");
    }

    #[test]
    fn a_day_of_the_year_is_in_every_year() {
        for bad in ["02-29", "13-01", "4-15", "04-1", "0415", "", "04-31", "+4-01"] {
            assert_eq!(DayOfYear::read(bad), None, "{bad}");
        }
        assert_eq!(DayOfYear::read("04-15").map(|day| day.to_string()).as_deref(), Some("04-15"));
    }
}
