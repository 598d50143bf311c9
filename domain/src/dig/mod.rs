//! The dig check: observation, statistics, findings, and the one change that is proposed.
//!
//! What is not reported is not guessed: [`missing()`] says what it would tell. Rows are the units.
//! The cause comes before the force, and one change is made at a time.

mod change;
mod change_words;
mod context;
mod finding;
mod findings;
mod force_size;
mod ignored;
mod judge;
mod missing;
mod observation;
mod proposal;
mod reading;
mod remedy;
mod resistance;
mod rules;
mod say;
mod scene;
mod set_aside;
mod settled;
mod share;
mod signs;
mod spacing;
mod statistics;

pub use change::{Change, Flag, SpringMove};
pub use context::Context;
pub use finding::{Cause, Class, Finding, Strength};
pub use ignored::Ignored;
pub use judge::{Judgement, judge};
pub use missing::{Missing, missing};
pub use observation::{MOST_READINGS, Observation, ObservationError, SettingsInUse};
pub use proposal::Proposal;
pub use reading::{
    Bottom, CleanerRunning, Closure, LoggedLoad, PrintDepth, RowReading, Wall, WheelFeel,
};
pub use resistance::ImpliedResistance;
pub use rules::{RULES, Rule};
pub use set_aside::{Apart, SetAside};
pub use settled::{Settled, Side};
pub use share::Share;
pub use spacing::{SpacingAgainst, SpacingStatistics};
pub use statistics::{
    AboveFloor, DepthSpread, DepthStatistics, RowDepth, RowsMean, Statistics, Wanted, statistics,
};
