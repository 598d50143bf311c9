//! The report of a season, as it is handed on: figures with their units of count, nothing to be
//! worked out any more. All quantities are SI inside.
//!
//! A *field* in it is a field behind one planter in one season: a field that two planters worked
//! counts with each of them. It is the unit of every share, because digs of one field resemble each
//! other.

mod about;
mod changes;
mod fields;
mod money;
mod shares;
mod shed;
mod spread;

use serde::{Deserialize, Serialize};

pub use self::about::{About, ReportOf, SoFar};
pub use self::changes::{Adjustments, CauseCount, LearnedClass};
pub use self::fields::{FieldLine, FieldStand, TrialEffect, TrialSummary};
pub use self::money::{MoneyAndTime, MoneyLine};
pub use self::shares::{
    Advice, AdvisorLine, CountedShare, CoverShares, FEWEST_GROWERS, InWindow, Others, SoilShares,
    WindowShares,
};
pub use self::shed::{ShedItem, ShedReason, WornPart};
pub use self::spread::{DEPTH_BIN, DepthBin, DepthDistribution, LoadAtSpeed, SeedCount, Week};

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
