//! The report of a season, as it is handed on: figures with their units of count, nothing to be
//! worked out any more. All quantities are SI inside.
//!
//! A *field* in it is a field behind one planter in one season: a field that two planters worked
//! counts with each of them. It is the unit of every share, because digs of one field resemble each
//! other.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use crate::conditions::Crop;
use crate::dig::Cause;
use crate::learning::{CoverClass, SoilClass, SoilGroup};
use crate::quantity::{Area, ArealNumberDensity, Force, Length, Speed, Time};
use crate::stats::{Range, wilson};

/// Fewest growers of a group that is set beside another.
pub const FEWEST_GROWERS: u32 = 5;

/// The report of a season.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SeasonReport {
    /// Of whom, of which season, and how far that is.
    pub about: About,
    /// What was advised, seen, applied and dug.
    pub recommendations: Advice,
    /// How many fields had load and depth in the window.
    pub in_window: InWindow,
    /// All other growers of the practice together, in the report of a grower; none where they are
    /// too few, and in other reports.
    pub others: Option<Others>,
    /// Advisor by advisor, by name, in the report of a practice.
    pub advisors: Vec<AdvisorLine>,
    /// What digs proposed to change, and why.
    pub adjustments: Adjustments,
    /// What digs taught about the resistance of soils.
    pub learned: Vec<LearnedClass>,
    /// Parts that wear.
    pub wear: Vec<WornPart>,
    /// Stands that were counted.
    pub stands: Vec<FieldStand>,
    /// Trials.
    pub trials: Vec<TrialSummary>,
    /// Land, hours and prices, where they are known.
    pub money_and_time: MoneyAndTime,
    /// What is to be mended in the shed.
    pub shed_list: Vec<ShedItem>,
    /// Week by week, without weeks in which nothing happened.
    pub weeks: Vec<Week>,
    /// Where seed lay against where it was wanted.
    pub depths: DepthDistribution,
    /// Loads that were logged, against the speed.
    pub loads: Vec<LoadAtSpeed>,
    /// Field by field, in the report of a grower or a planter.
    pub fields: Vec<FieldLine>,
}

/// Something with an id and a name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Named {
    /// Its id.
    #[serde(with = "crate::learning::id")]
    pub id: u128,
    /// Its name.
    pub name: String,
}

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

/// A share that was counted, with its 95 % interval (Wilson).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CountedShare {
    /// How many.
    pub count: u32,
    /// Of how many.
    pub of: u32,
    /// The share, 0 to 1.
    pub share: f64,
    /// Low limit.
    pub low: f64,
    /// High limit.
    pub high: f64,
}

impl CountedShare {
    /// A share; none of nothing.
    pub fn of(count: u32, of: u32) -> Option<Self> {
        let (part, all) = (f64::from(count), f64::from(of));
        let (low, high) = wilson(part, all, 0.95)?;
        Some(Self { count, of, share: part / all, low, high })
    }
}

/// What was advised, seen, applied and dug. A recommendation counts once, whatever its revisions.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Advice {
    /// Recommendations of which a revision was issued in the season.
    pub issued: u32,
    /// Revisions that were issued.
    pub revisions: u32,
    /// Recommendations of which whoever plants saw a revision.
    pub seen: Option<CountedShare>,
    /// Recommendations that were applied: a planting was reported, or somebody dug.
    pub applied: Option<CountedShare>,
    /// Recommendations behind which somebody dug.
    pub dug: Option<CountedShare>,
}

/// How many fields had load and depth in the window.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct InWindow {
    /// All fields.
    pub all: WindowShares,
    /// By soil, where more is known than nothing.
    pub by_soil: Vec<SoilShares>,
    /// By cover.
    pub by_cover: Vec<CoverShares>,
}

/// In the window at the first dig and at the last.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct WindowShares {
    /// Growers of these fields.
    pub growers: u32,
    /// Fields in which somebody dug.
    pub fields_dug: u32,
    /// In the window at the first dig, of the fields whose first dig tells.
    pub first_pass: Option<CountedShare>,
    /// In the window at the last dig, of the fields whose last dig tells and which were dug again
    /// after the first.
    pub dug_again: Option<CountedShare>,
    /// In the window at the last dig, of all fields whose last dig tells: after adjustment where
    /// there was one.
    pub after_adjustment: Option<CountedShare>,
    /// Whether fewer growers stand behind it than may be compared.
    pub few_growers: bool,
}

/// The shares of a soil.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SoilShares {
    /// The soil.
    pub soil: SoilGroup,
    /// Its shares.
    pub shares: WindowShares,
}

/// The shares of a cover.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CoverShares {
    /// The cover.
    pub cover: CoverClass,
    /// Its shares.
    pub shares: WindowShares,
}

/// All other growers of the practice, without a name.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Others {
    /// How many growers: five or more.
    pub growers: u32,
    /// Their shares.
    pub shares: WindowShares,
}

/// An advisor. Never ranked: by name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AdvisorLine {
    /// The advisor; none for growers that nobody looks after.
    pub advisor: Option<Named>,
    /// Growers.
    pub growers: u32,
    /// The figures; none where there are fewer growers than may be compared.
    pub shares: Option<WindowShares>,
}

/// What digs proposed to change, and why.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Adjustments {
    /// Proposed.
    pub proposed: u32,
    /// Accepted.
    pub accepted: u32,
    /// Declined.
    pub declined: u32,
    /// Not decided yet.
    pub open: u32,
    /// By cause, the most frequent first.
    pub causes: Vec<CauseCount>,
}

/// How often a cause was proposed to be dealt with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct CauseCount {
    /// The cause; none where no sign asked for the change, but all digs together.
    pub cause: Option<Cause>,
    /// Proposed.
    pub proposed: u32,
    /// Accepted.
    pub accepted: u32,
    /// Declined.
    pub declined: u32,
}

/// What digs taught about a soil under a cover.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LearnedClass {
    /// The planter, in the report of a planter or a grower; else the whole practice.
    pub planter: Option<Named>,
    /// Soil and cover.
    pub class: SoilClass,
    /// Digs behind it, of all seasons.
    pub digs: u32,
    /// The factor on the resistance that the conditions let expect, before any dig.
    pub before: Range,
    /// The factor with all digs that are known now, asked about this season.
    pub after: Range,
}

/// A part that wears, as last measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WornPart {
    /// The planter.
    pub planter: Named,
    /// Code of the part.
    pub part: String,
    /// The part in words.
    pub words: String,
    /// The rows; empty means all.
    pub rows: Vec<u16>,
    /// When it was last measured.
    pub measured_on: NaiveDate,
    /// What was measured.
    pub measured: Length,
    /// Its limit.
    pub limit: Option<Length>,
    /// Wear by area, m per m².
    pub wear_per_area: Option<f64>,
    /// Land that it still plants before it is at its limit.
    pub area_left: Option<Area>,
    /// When it will be at its limit, as the season goes.
    pub at_limit_on: Option<NaiveDate>,
    /// Whether it is at its limit, or its replacement is open.
    pub replace: bool,
}

/// A stand that was counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FieldStand {
    /// The field.
    pub field: Named,
    /// The crop.
    pub crop: Crop,
    /// The day of planting.
    pub planted_on: NaiveDate,
    /// The day of the count.
    pub counted_on: NaiveDate,
    /// Plants by area.
    pub population: ArealNumberDensity,
    /// Low limit, 95 %.
    pub population_low: Option<ArealNumberDensity>,
    /// High limit, 95 %.
    pub population_high: Option<ArealNumberDensity>,
    /// Plants of the seeds that were dropped, 0 to 1.
    pub emergence: Option<f64>,
    /// What it says, in words.
    pub words: String,
}

/// A trial.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialSummary {
    /// The trial.
    pub trial: Named,
    /// What was measured, in words: `emergence`.
    pub response: String,
    /// UCUM code of its unit.
    pub unit: String,
    /// The design, in words.
    pub design: String,
    /// Differences between treatments.
    pub effects: Vec<TrialEffect>,
    /// What can and what can't be concluded.
    pub verdict: String,
}

/// A difference between two treatments, in the unit of the trial.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialEffect {
    /// The treatment.
    pub treatment: String,
    /// What it is held against.
    pub against: String,
    /// Treatment less the other.
    pub difference: f64,
    /// Low limit, 95 %; none without replication.
    pub low: Option<f64>,
    /// High limit.
    pub high: Option<f64>,
    /// The p-value; none without replication.
    pub p: Option<f64>,
}

/// Land, hours and prices, where they are known. Nothing is made up.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct MoneyAndTime {
    /// Plantings that were reported.
    pub plantings: u32,
    /// Land that was planted.
    pub planted: Area,
    /// Plantings whose hours were reported.
    pub plantings_with_hours: u32,
    /// The land of these.
    pub planted_with_hours: Area,
    /// Their hours.
    pub hours: Time,
    /// Prices that somebody entered, added up.
    pub money: Vec<MoneyLine>,
}

/// Money, from prices that were entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MoneyLine {
    /// What for.
    pub words: String,
    /// How much, in the currency of the entries.
    pub amount: f64,
    /// Entries behind it.
    pub entries: u32,
}

/// Where an entry of the list for the shed comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ShedReason {
    /// An inspection said `replace`, and nobody did.
    OpenReplacement,
    /// A part is at its limit, or will be before the next season ends.
    Wear,
    /// Digs pointed to it.
    Digs,
}

/// Something to be mended, or looked at, in the shed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShedItem {
    /// The planter.
    pub planter: Named,
    /// Where the entry comes from.
    pub reason: ShedReason,
    /// What, in words.
    pub words: String,
    /// The rows; empty means all, or not known.
    pub rows: Vec<u16>,
    /// Digs that pointed to it.
    pub digs: u32,
    /// Since when, or when it was last seen.
    pub day: Option<NaiveDate>,
}

/// A week, from Monday.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Week {
    /// The Monday.
    pub starts: NaiveDate,
    /// Revisions that were issued.
    pub issued: u32,
    /// Revisions that were seen.
    pub seen: u32,
    /// Digs.
    pub digs: u32,
    /// Adjustments that were proposed.
    pub proposed: u32,
    /// Adjustments that were accepted.
    pub accepted: u32,
    /// Fields whose last dig so far has load and depth in the window, of those whose last dig so far
    /// tells, at the end of the week.
    pub in_window: Option<CountedShare>,
}

/// Where seed lay against where it was wanted, in bins of [`DEPTH_BIN`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DepthDistribution {
    /// Width of a bin.
    pub bin: Length,
    /// The bins with seed, the shallowest first.
    pub bins: Vec<DepthBin>,
    /// The narrowest tolerance of the digs.
    pub least_tolerance: Option<Length>,
    /// The widest.
    pub most_tolerance: Option<Length>,
    /// Seeds within the tolerance of their dig at the first dig of a field, and of how many.
    pub first_within: SeedCount,
    /// The same at the last dig of a field.
    pub last_within: SeedCount,
}

/// Seeds that were counted. They are no units of a share with an interval: seeds of a row resemble
/// each other.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SeedCount {
    /// How many.
    pub count: u64,
    /// Of how many.
    pub of: u64,
}

/// Width of a bin of depth: an eighth of an inch, m.
pub const DEPTH_BIN: f64 = 0.003_175;

/// A bin of depth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DepthBin {
    /// Its middle, less the depth that was wanted: negative is too shallow.
    pub off: Length,
    /// Seeds at the first dig of each field.
    pub first: u64,
    /// Seeds at the last dig of each field.
    pub last: u64,
}

/// Digs of one load at one speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LoadAtSpeed {
    /// The speed, to a quarter mile per hour.
    pub speed: Speed,
    /// The load on the gauge wheels, to 50 N.
    pub load: Force,
    /// Digs.
    pub digs: u32,
    /// Those of them with the load in the window.
    pub inside: u32,
}

/// A field.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FieldLine {
    /// The field.
    pub field: Named,
    /// The planter.
    pub planter: Named,
    /// Soil and cover.
    pub class: SoilClass,
    /// Revisions that were issued.
    pub issued: u32,
    /// Whether one was seen.
    pub seen: bool,
    /// Digs.
    pub digs: u32,
    /// Whether load and depth were in the window at the first dig; none where it does not tell.
    pub first_inside: Option<bool>,
    /// The same at the last dig.
    pub last_inside: Option<bool>,
    /// Mean depth less the depth that was wanted, at the last dig.
    pub last_off: Option<Length>,
}

#[cfg(test)]
mod tests {
    use super::{CountedShare, SoFar};

    #[test]
    fn a_share_of_nothing_is_none_and_the_interval_is_wilsons() {
        assert_eq!(CountedShare::of(0, 0), None);
        let share = CountedShare::of(18, 20).expect("a share");
        // R's binom.confint by way of the statsmodels tests: oracle T-O19.
        assert!((share.low - 0.698_966_354_771_512_8).abs() < 1e-9, "{share:?}");
        assert!((share.high - 0.972_133_518_786_232).abs() < 1e-9, "{share:?}");
    }

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
