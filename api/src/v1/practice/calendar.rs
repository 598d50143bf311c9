//! The seasons of a practice: on which day one begins, and where that day begins.

use std::fmt;
use std::str::FromStr;

use chrono::{
    DateTime, Datelike, Days, LocalResult, NaiveDate, NaiveTime, TimeDelta, TimeZone, Utc,
};
use chrono_tz::Tz;
use sea_orm::{ConnectionTrait, DatabaseTransaction, EntityTrait, QuerySelect};
use uuid::Uuid;

use crate::entities::practices::{Column, Entity, Model};
use crate::http::{ApiError, BadMember};

/// The day of the year on which a season begins.
///
/// The 29th of February is the 1st of March in a year that has none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SeasonStart {
    month: u32,
    day: u32,
}

impl SeasonStart {
    const NEW_YEAR: Self = Self { month: 1, day: 1 };

    /// The day as `MM-DD`.
    ///
    /// # Errors
    /// When there is no such day in any year.
    pub fn parse(pointer: &str, given: &str) -> Result<Self, BadMember> {
        Self::read(given).ok_or_else(|| {
            BadMember::new(pointer, "There is no such day of the year.")
                .given(given.escape_debug())
                .allowed("MM-DD, from 01-01 to 12-31")
                .why("a season begins on the same day each year")
        })
    }

    fn read(text: &str) -> Option<Self> {
        let (month, day) = text.split_once('-')?;
        let two = |part: &str| {
            let digits = part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
            digits.then(|| part.parse::<u32>().ok()).flatten()
        };
        let (month, day) = (two(month)?, two(day)?);
        NaiveDate::from_ymd_opt(LEAP_YEAR, month, day)?;
        Some(Self { month, day })
    }

    /// The first day of the season that begins in a year.
    fn in_year(self, year: i32) -> NaiveDate {
        let Self { month, day } = self;
        let there = NaiveDate::from_ymd_opt(year, month, day);
        there.or_else(|| NaiveDate::from_ymd_opt(year, 3, 1)).unwrap_or(NaiveDate::MAX)
    }
}

/// Any leap year: it has every day that a year may have.
const LEAP_YEAR: i32 = 2024;

impl fmt::Display for SeasonStart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

/// A time zone of the IANA database.
///
/// # Errors
/// When this version knows none of that name.
pub fn zone(pointer: &str, given: &str) -> Result<Tz, BadMember> {
    Tz::from_str(given).map_err(|_unknown| {
        BadMember::new(pointer, "There is no such time zone.")
            .given(given.escape_debug())
            .allowed("a name of the IANA time zone database, such as America/Chicago")
            .why("the name says when clocks change, which an offset does not")
    })
}

/// The seasons of a practice.
///
/// A season is a year from the day on which it starts. It is named by the year in which it ends, so
/// a season that starts on the first of July 2027 is that of 2028, and one that starts on New Year
/// is the calendar year. Days are those of the practice's time zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SeasonCalendar {
    zone: Tz,
    starts: SeasonStart,
}

impl SeasonCalendar {
    /// Calendar years in UTC: what a practice has that says nothing else.
    pub const UTC_YEARS: Self = Self { zone: Tz::UTC, starts: SeasonStart::NEW_YEAR };

    /// Seasons that start on a day, in a zone.
    pub fn new(zone: Tz, starts: SeasonStart) -> Self {
        Self { zone, starts }
    }

    /// That of a practice as it is stored.
    ///
    /// # Errors
    /// When this version does not know the zone.
    pub fn of(practice: &Model) -> Result<Self, ApiError> {
        Self::stored(&practice.time_zone, &practice.season_starts)
    }

    /// That of a practice as it is now.
    pub async fn load(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<Self, ApiError> {
        let kept = Entity::find_by_id(practice_id)
            .select_only()
            .columns([Column::TimeZone, Column::SeasonStarts])
            .into_tuple::<(String, String)>()
            .one(db)
            .await?;
        Self::found(kept)
    }

    /// That of a practice, held until the transaction ends: who stores the name of a season stores
    /// it before the calendar changes, or after.
    pub async fn hold(tx: &DatabaseTransaction, practice_id: Uuid) -> Result<Self, ApiError> {
        let kept = Entity::find_by_id(practice_id)
            .lock_shared()
            .select_only()
            .columns([Column::TimeZone, Column::SeasonStarts])
            .into_tuple::<(String, String)>()
            .one(tx)
            .await?;
        Self::found(kept)
    }

    fn found(kept: Option<(String, String)>) -> Result<Self, ApiError> {
        let (zone, starts) =
            kept.ok_or_else(|| ApiError::internal("an account without a practice"))?;
        Self::stored(&zone, &starts)
    }

    fn stored(zone: &str, starts: &str) -> Result<Self, ApiError> {
        let zone = Tz::from_str(zone).map_err(ApiError::internal)?;
        let starts = SeasonStart::read(starts)
            .ok_or_else(|| ApiError::internal("a stored day of the year that is none"))?;
        Ok(Self { zone, starts })
    }

    /// The time zone of the practice.
    pub fn zone(&self) -> Tz {
        self.zone
    }

    /// The day of a moment, where the practice is.
    pub fn today(&self, now: DateTime<Utc>) -> NaiveDate {
        now.with_timezone(&self.zone).date_naive()
    }

    /// The season of a day.
    pub fn season_of_day(&self, day: NaiveDate) -> i32 {
        let year = day.year();
        let ends_later = day >= self.starts.in_year(year) && self.crosses_the_year();
        if ends_later { year.saturating_add(1) } else { year }
    }

    /// The season of a moment. A moment is in a season if and only if it is in its [`Self::span`].
    pub fn season_of(&self, at: DateTime<Utc>) -> i32 {
        let by_day = self.season_of_day(self.today(at));
        let (from, to) = self.span(by_day);
        // Clocks that are set back over midnight show the last hour of a day twice.
        if at < from {
            by_day.saturating_sub(1)
        } else if at >= to {
            by_day.saturating_add(1)
        } else {
            by_day
        }
    }

    /// The first day of a season, and the first of the next.
    pub fn days(&self, season: i32) -> (NaiveDate, NaiveDate) {
        let first = if self.crosses_the_year() { season.saturating_sub(1) } else { season };
        (self.starts.in_year(first), self.starts.in_year(first.saturating_add(1)))
    }

    /// The first moment of a season, and that of the next: half open.
    pub fn span(&self, season: i32) -> (DateTime<Utc>, DateTime<Utc>) {
        let (first, next) = self.days(season);
        (self.begins(first), self.begins(next))
    }

    /// The first moment of a day. Where clocks are set forward over midnight, or the day is left
    /// out, it is the moment after.
    pub fn begins(&self, day: NaiveDate) -> DateTime<Utc> {
        let midnight = day.and_time(NaiveTime::MIN);
        match self.zone.from_local_datetime(&midnight) {
            LocalResult::Single(at) | LocalResult::Ambiguous(at, _) => at.with_timezone(&Utc),
            LocalResult::None => self.after_gap(day),
        }
    }

    /// The first moment whose day is not before `day`, found by halving.
    fn after_gap(&self, day: NaiveDate) -> DateTime<Utc> {
        let around = |days: fn(NaiveDate) -> Option<NaiveDate>| {
            days(day).unwrap_or(day).and_time(NaiveTime::MIN).and_utc()
        };
        let mut before = around(|day| day.checked_sub_days(Days::new(2)));
        let mut after = around(|day| day.checked_add_days(Days::new(3)));
        while after - before > TimeDelta::seconds(1) {
            let half = TimeDelta::seconds((after - before).num_seconds() / 2);
            let middle = before + half;
            if self.today(middle) < day { before = middle } else { after = middle }
        }
        after
    }

    fn crosses_the_year(&self) -> bool {
        self.starts != SeasonStart::NEW_YEAR
    }
}

#[cfg(test)]
mod tests {
    use super::{SeasonCalendar, SeasonStart, zone};
    use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};
    use chrono_tz::{TZ_VARIANTS, Tz};
    use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

    fn calendar(zone_name: &str, starts: &str) -> SeasonCalendar {
        let zone = zone("/time_zone", zone_name).expect("a zone");
        SeasonCalendar::new(zone, SeasonStart::parse("/season_starts", starts).expect("a day"))
    }

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().expect("a time")
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    #[test]
    fn a_season_that_starts_on_new_year_is_the_calendar_year() {
        let utc = SeasonCalendar::UTC_YEARS;
        assert_eq!(utc.season_of(at("2027-12-31T23:59:59Z")), 2027);
        assert_eq!(utc.season_of(at("2027-12-31T23:59:59-06:00")), 2028);
        assert_eq!(utc.days(2027), (day("2027-01-01"), day("2028-01-01")));
        assert_eq!(utc.span(2027), (at("2027-01-01T00:00:00Z"), at("2028-01-01T00:00:00Z")));
    }

    #[test]
    fn the_day_is_that_of_the_zone_west_and_east() {
        let chicago = calendar("America/Chicago", "01-01");
        assert_eq!(chicago.season_of(at("2027-01-01T05:59:59Z")), 2026);
        assert_eq!(chicago.season_of(at("2027-01-01T06:00:00Z")), 2027);
        assert_eq!(chicago.today(at("2027-05-01T04:59:59Z")), day("2027-04-30"), "summer time");
        let kiritimati = calendar("Pacific/Kiritimati", "01-01");
        assert_eq!(kiritimati.season_of(at("2026-12-31T09:59:59Z")), 2026);
        assert_eq!(kiritimati.season_of(at("2026-12-31T10:00:00Z")), 2027);
        assert_eq!(calendar("Asia/Kolkata", "01-01").span(2027).0, at("2026-12-31T18:30:00Z"));
    }

    #[test]
    fn a_southern_season_crosses_the_year_and_is_named_by_its_end() {
        let south = calendar("America/Argentina/Buenos_Aires", "07-01");
        for (when, season) in [
            ("2027-06-30T23:59:59-03:00", 2027),
            ("2027-07-01T00:00:00-03:00", 2028),
            ("2027-12-31T23:59:59-03:00", 2028),
            ("2028-01-01T00:00:00-03:00", 2028),
            ("2028-06-30T23:59:59-03:00", 2028),
            ("2028-07-01T00:00:00-03:00", 2029),
        ] {
            assert_eq!(south.season_of(at(when)), season, "{when}");
        }
        assert_eq!(south.days(2028), (day("2027-07-01"), day("2028-07-01")));
    }

    #[test]
    fn the_29th_of_february_is_the_1st_of_march_in_other_years() {
        let leap = calendar("UTC", "02-29");
        assert_eq!(leap.days(2028), (day("2027-03-01"), day("2028-02-29")));
        assert_eq!(leap.days(2029), (day("2028-02-29"), day("2029-03-01")));
        assert_eq!(leap.season_of_day(day("2028-02-28")), 2028);
        assert_eq!(leap.season_of_day(day("2028-02-29")), 2029);
        assert_eq!(leap.season_of_day(day("2027-02-28")), 2027);
        assert_eq!(leap.season_of_day(day("2027-03-01")), 2028);
    }

    #[test]
    fn a_day_without_a_midnight_begins_after_the_gap() {
        // Clocks went from 0:00 to 1:00 on 5 September 2027's Sunday in Santiago, as they do now.
        let santiago = calendar("America/Santiago", "09-05");
        assert_eq!(santiago.span(2028).0, at("2027-09-05T01:00:00-03:00"));
        assert_eq!(santiago.season_of(at("2027-09-05T03:59:59Z")), 2027);
        assert_eq!(santiago.season_of(at("2027-09-05T04:00:00Z")), 2028);
        // Samoa left out 30 December 2011: it went from the 29th to the 31st.
        let apia = calendar("Pacific/Apia", "12-30");
        assert_eq!(apia.span(2012).0, at("2011-12-30T10:00:00Z"));
    }

    #[test]
    fn only_days_that_some_year_has_are_taken() {
        for good in ["01-01", "02-29", "07-01", "12-31"] {
            let read = SeasonStart::parse("/season_starts", good).expect(good);
            assert_eq!(read.to_string(), good);
        }
        for bad in
            ["", "1-1", "02-30", "13-01", "00-10", "06-31", "07-1", "07/01", "+7-01", "07-01-"]
        {
            let refused = SeasonStart::parse("/season_starts", bad).expect_err(bad);
            assert_eq!(refused.pointer, "/season_starts");
        }
        for bad in ["", "Chicago", "america/chicago", "GMT+25", "-06:00"] {
            assert!(zone("/time_zone", bad).is_err(), "{bad}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        #[test]
        fn every_moment_is_in_the_one_season_whose_span_holds_it(
            zone in 0..TZ_VARIANTS.len(),
            (month, of_month) in (1_u32..=12, 1_u32..=29),
            seconds in 0_i64..6_311_520_000,
        ) {
            let starts = format!("{month:02}-{:02}", of_month.min(29));
            let zone: Tz = TZ_VARIANTS[zone];
            let calendar = calendar(zone.name(), &starts);
            let at = DateTime::from_timestamp(seconds, 0).expect("a time");
            let season = calendar.season_of(at);
            let (from, to) = calendar.span(season);
            prop_assert!(from <= at && at < to, "{zone} {starts} {at}: {from} to {to}");
            prop_assert_eq!(calendar.span(season + 1).0, to);
            let (first, next) = calendar.days(season);
            prop_assert!(first < next && next.year() - first.year() == 1);
            prop_assert_eq!(calendar.season_of_day(first), season);
            prop_assert_eq!(calendar.season_of_day(next.pred_opt().expect("a day")), season);
            prop_assert!(calendar.today(from) >= first);
            prop_assert!(calendar.season_of(from - TimeDelta::seconds(1)) == season - 1);
        }
    }
}
