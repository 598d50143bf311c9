//! The dig check: observation, statistics, findings, and the one change that is proposed.
//!
//! What is not reported is not guessed: [`missing()`] says what it would tell. Rows are the units.
//! The cause comes before the force, and one change is made at a time.

mod change;
mod change_words;
mod context;
mod decision;
mod depth_spread;
mod finding;
mod findings;
mod force_size;
mod ignored;
mod judge;
mod limits;
mod missing;
mod notice;
mod observation;
mod plan;
mod proposal;
mod reading;
mod remedy;
mod resistance;
mod rules;
mod say;
mod scatter;
mod scene;
mod set_aside;
mod settled;
mod share;
mod signs;
mod spacing;
mod spacing_figures;
mod statistics;
mod unit_guess;

pub use change::{Change, Flag, SpringMove};
pub use context::Context;
pub use decision::Memory;
pub use depth_spread::DepthSpread;
pub use finding::{Cause, Class, Finding, Strength};
pub use ignored::Ignored;
pub use judge::{Judgement, judge};
pub use limits::Limits;
pub use missing::{Missing, missing};
pub use notice::{CLOCKS_DIFFER_MINUTES, Notice, NoticeCode, early_by, hold_back};
pub use observation::{MOST_READINGS, Observation, ObservationError, SettingsInUse, Whereabouts};
pub use plan::{
    AfterDig, Ask, Bar, CONFIDENCE, DigPlace, DigPlan, DugRow, LookAt, PlannedRow, Purpose, RowWhy,
    SpreadSeen, Spreads, StopEarly, WheelsSettled, next_dig, plan, wheels_settled,
};
pub use proposal::Proposal;
pub use reading::{
    Bottom, CleanerRunning, Closure, LoggedLoad, PrintDepth, RowReading, TAPE_SHARE, Wall,
    WheelFeel,
};
pub use resistance::ImpliedResistance;
pub use rules::{RULES, Rule};
pub use set_aside::{Apart, SetAside};
pub use settled::{Settled, Side};
pub use share::Share;
pub use spacing::{LimitsOf, RowSpacing, SpacingAgainst, SpacingStatistics};
pub use statistics::{
    AboveFloor, DepthStatistics, RowDepth, RowsMean, Statistics, Wanted, statistics,
};
pub use unit_guess::{Usual, unit_guess, usual};
