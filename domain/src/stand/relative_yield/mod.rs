//! Relative yield of corn by planting date and stand, as published tables print it.
//!
//! Guidance of one region and year each, with wide scatter between years. A figure between cells
//! follows straight lines: they pass through every printed cell, and between cells they leave a
//! smooth curve by at most 0.2 point in the Illinois table, less than its rounding.

mod grid;
mod illinois;
mod iowa;
mod replant;
mod wisconsin;

use chrono::{Datelike, NaiveDate, TimeDelta};
use serde::{Deserialize, Serialize};

pub use replant::{Replant, ReplantDecision, keep_or_replant};

use crate::provenance::{Input, Mark, Source, Step, sources};
use crate::quantity::{ArealNumberDensity, Measured, bounds, unit};
use grid::Grid;

/// A published table. All are for corn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum YieldTable {
    /// Illinois 1994: percent of the best yield, 10 April to 9 June, 10,000 to 36,000 plants/ac.
    IllinoisDateStand,
    /// East-central Iowa 2006: relative yield for replanting, 20 April to 28 June, 12,000 to 32,000.
    IowaReplant,
    /// Northern Iowa 2018: delayed planting, 20 April to 15 June, 25,000 to 45,000.
    IowaLatePlanting,
    /// Southern Wisconsin 2003, hybrid of full season, 20 April to 20 June, 32,000 to 36,000.
    WisconsinFullSeason,
    /// Southern Wisconsin 2003, hybrid of short season.
    WisconsinShortSeason,
}

/// What a table says.
#[derive(Debug, Clone, PartialEq)]
pub struct RelativeYield {
    /// The table.
    pub table: YieldTable,
    /// Percent of what the region yields at its best date and stand.
    pub percent: f64,
    /// Whether the source prints this figure; else it lies between printed ones.
    pub printed: bool,
    /// Whether the source itself extrapolated to this date.
    pub extrapolated_by_source: bool,
    /// The calculation.
    pub step: Step,
}

/// Why a table says nothing.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum OutsideTable {
    /// The date lies outside.
    #[error("the table covers planting from {} to {}", .from.format("%-d %B"), .to.format("%-d %B"))]
    Date {
        /// First day.
        from: NaiveDate,
        /// Last day.
        to: NaiveDate,
    },
    /// The stand lies outside.
    #[error("the table covers {least:.0} to {most:.0} plants an acre")]
    Stand {
        /// Thinnest.
        least: f64,
        /// Thickest.
        most: f64,
    },
}

impl YieldTable {
    /// Every table.
    pub const ALL: [Self; 5] = [
        Self::IllinoisDateStand,
        Self::IowaReplant,
        Self::IowaLatePlanting,
        Self::WisconsinFullSeason,
        Self::WisconsinShortSeason,
    ];

    /// Where the trials stood.
    pub const fn region(self) -> &'static str {
        match self {
            Self::IllinoisDateStand => "Illinois",
            Self::IowaReplant => "east-central Iowa",
            Self::IowaLatePlanting => "northern Iowa",
            Self::WisconsinFullSeason => "southern Wisconsin, full-season hybrid",
            Self::WisconsinShortSeason => "southern Wisconsin, short-season hybrid",
        }
    }

    /// The year of the table.
    pub const fn year(self) -> u16 {
        match self {
            Self::IllinoisDateStand => 1994,
            Self::IowaReplant => 2006,
            Self::IowaLatePlanting => 2018,
            Self::WisconsinFullSeason | Self::WisconsinShortSeason => 2003,
        }
    }

    /// The citation.
    pub const fn source(self) -> Source {
        match self {
            Self::IllinoisDateStand => sources::NAFZIGER_1994,
            Self::IowaReplant => sources::IOWA_REPLANT,
            Self::IowaLatePlanting => sources::IOWA_LATE,
            Self::WisconsinFullSeason | Self::WisconsinShortSeason => sources::WISCONSIN_EXPECTED,
        }
    }

    /// What to keep in mind with it.
    pub const fn note(self) -> &'static str {
        match self {
            Self::IllinoisDateStand => {
                "for yields above about 125 bu/ac; below about 100 bu/ac more than 24,000 plants add little"
            }
            Self::IowaReplant => "take about 10 % more off a replanted yield for replant problems",
            Self::IowaLatePlanting => "the figure of a window holds from its first day to its last",
            Self::WisconsinFullSeason | Self::WisconsinShortSeason => {
                "95 to 115 day zone; only the rows of 32,000 to 36,000 plants are known"
            }
        }
    }

    fn grid(self) -> &'static Grid {
        match self {
            Self::IllinoisDateStand => &illinois::DATE_AND_STAND,
            Self::IowaReplant => &iowa::REPLANT,
            Self::IowaLatePlanting => &iowa::LATE,
            Self::WisconsinFullSeason => &wisconsin::FULL_SEASON,
            Self::WisconsinShortSeason => &wisconsin::SHORT_SEASON,
        }
    }

    /// The relative yield for a day of planting and a final stand.
    ///
    /// # Errors
    /// Outside the dates or the stands of the table: it is never carried further.
    pub fn at(
        self,
        date: NaiveDate,
        stand: ArealNumberDensity,
    ) -> Result<RelativeYield, OutsideTable> {
        let grid = self.grid();
        let day = days_after_april(date);
        let thousands = thousands_an_acre(stand);
        let reading = grid.read(day, thousands).ok_or_else(|| self.outside(date, day))?;
        let late = matches!(self, Self::IllinoisDateStand) && day > illinois::LAST_OBSERVED_DAY;
        Ok(RelativeYield {
            table: self,
            percent: reading.percent,
            printed: reading.printed,
            extrapolated_by_source: late,
            step: Step {
                step: "relative yield".into(),
                formula: "table(d, p); d = days after 30 April, p = thousand plants an acre".into(),
                inputs: vec![Input::new("d", day, "d"), Input::new("p", thousands, "1")],
                value: reading.percent,
                unit: "%".into(),
                low: None,
                high: None,
                source: self.source().into(),
                mark: if reading.printed { Mark::Read } else { Mark::Derived },
            },
        })
    }

    /// The smooth curve through the Illinois table, percent; `None` for the others and outside it.
    ///
    /// For comparing nearby dates and stands without the steps of rounding; the printed table stays
    /// the reference.
    pub fn fitted(self, date: NaiveDate, stand: ArealNumberDensity) -> Option<f64> {
        let (day, thousands) = (days_after_april(date), thousands_an_acre(stand));
        let inside = self.grid().read(day, thousands).is_some();
        (inside && self == Self::IllinoisDateStand).then(|| illinois::fitted(day, thousands))
    }

    fn outside(self, date: NaiveDate, day: f64) -> OutsideTable {
        let (first, last) = self.grid().days();
        if day < f64::from(first) || day > f64::from(last) {
            let on = |day: i16| on_day(date, i64::from(day));
            return OutsideTable::Date { from: on(first), to: on(last) };
        }
        let (thinnest, thickest) = self.grid().thousands();
        OutsideTable::Stand { least: thinnest * 1000.0, most: thickest * 1000.0 }
    }

    /// The printed dates of one stand: days after 30 April and percent. Of a window both ends.
    pub(super) fn column(self, thousands: f64) -> Vec<(f64, f64)> {
        let grid = self.grid();
        let at = |(day, _): &(i16, usize)| {
            let day = f64::from(*day);
            Some((day, grid.read(day, thousands)?.percent))
        };
        grid.dates.iter().filter_map(at).collect()
    }
}

/// Days after 30 April of the same year; negative before it.
pub fn days_after_april(date: NaiveDate) -> f64 {
    let days = date.signed_duration_since(last_of_april(date)).num_days();
    i32::try_from(days).map_or(0.0, f64::from)
}

fn on_day(date: NaiveDate, after_april: i64) -> NaiveDate {
    let later = TimeDelta::try_days(after_april);
    later.and_then(|d| last_of_april(date).checked_add_signed(d)).unwrap_or(date)
}

fn last_of_april(date: NaiveDate) -> NaiveDate {
    NaiveDate::from_ymd_opt(date.year(), 4, 30).unwrap_or(date)
}

fn thousands_an_acre(stand: ArealNumberDensity) -> f64 {
    unit(bounds::SEED_POPULATION.us).map_or_else(|| stand.si(), |u| u.read(stand)) / 1000.0
}
