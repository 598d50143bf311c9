//! The change itself: for programs with its kind and quantities, for people in a sentence.

use domain::dig::{Change, SpringMove as Move};
use domain::planter::{ClosingPair as Pair, LeverPosition, Setting};
use domain::settings::{CleanerUse as Cleaner, CoulterUse as Coulter};
use serde::Serialize;
use utoipa::ToSchema;

use super::finding::owned;
use crate::http::quantity::Quantity;
use crate::v1::dig_checks::words::SpringMove;
use crate::v1::plain::{from_to, on_rows, quantity};
use crate::v1::planters::ClosingPair;
use crate::v1::recommendations::answer::SetOnPlanter;
use crate::v1::recommendations::show::Show;
use crate::v1::recommendations::{CleanerUse, CoulterUse};

/// What to do. Exactly one thing.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = Change)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum ChangeOut {
    /// Look at something first.
    Inspect {
        /// What to look at.
        what: String,
        /// On which rows; empty means all.
        rows: Vec<u16>,
    },
    /// Another down force on every row.
    DownForce {
        /// What it was.
        from: Quantity,
        /// What it should be.
        to: Quantity,
        /// The difference; negative is less.
        by: Quantity,
        /// How to set it on this planter.
        set_on_planter: SetOnPlanter,
    },
    /// Another position of the depth lever.
    Depth {
        /// What the lever stood for.
        from: Quantity,
        /// What it should stand for.
        to: Quantity,
        /// The notch, where the steps of the lever are known.
        #[serde(skip_serializing_if = "Option::is_none")]
        #[schema(nullable = false)]
        notch: Option<u8>,
    },
    /// Another speed.
    Speed {
        /// What was driven.
        from: Quantity,
        /// What to drive.
        to: Quantity,
    },
    /// Set the row cleaners otherwise.
    CleanerHeight {
        /// How to run them.
        to: CleanerUse,
    },
    /// Other closing wheels, on two rows first.
    ClosingWheels {
        /// The pair to try.
        to: ClosingPair,
        /// Whether it hangs in the shed.
        owned: bool,
    },
    /// Another tension of the closing springs.
    ClosingSpring {
        /// Which way, by one step.
        to: SpringMove,
    },
    /// Run the coulters otherwise.
    Coulter {
        /// How.
        to: CoulterUse,
    },
    /// Do not plant yet.
    Wait {
        /// What to wait for.
        until: String,
    },
    /// Dig more before anything is changed.
    DigMore {
        /// How many more rows; 0 means the same rows, looked at more closely.
        rows: u16,
        /// What to look at.
        look_for: Vec<String>,
    },
    /// Go on planting.
    KeepAsIs {},
}

impl ChangeOut {
    /// In these units.
    pub(super) fn of(change: Change, show: Show) -> Self {
        match change {
            Change::Inspect { what, rows } => Self::Inspect { what: what.into_owned(), rows },
            Change::DownForce { from, to, by, setting } => Self::DownForce {
                from: show.down_force(from),
                to: show.down_force(to),
                by: show.down_force(by),
                set_on_planter: SetOnPlanter::of(&setting, show),
            },
            Change::Depth { from, to, lever } => Self::Depth {
                from: show.depth(from),
                to: show.depth(to),
                notch: lever.map(|position| position.notch),
            },
            Change::Speed { from, to } => {
                Self::Speed { from: show.speed(from), to: show.speed(to) }
            }
            Change::CleanerHeight { to } => Self::CleanerHeight { to: to.into() },
            Change::ClosingWheels { to, owned } => Self::ClosingWheels { to: to.into(), owned },
            Change::ClosingSpring { to } => Self::ClosingSpring { to: to.into() },
            Change::Coulter { to } => Self::Coulter { to: to.into() },
            Change::Wait { until } => Self::Wait { until: until.into_owned() },
            Change::DigMore { rows, look_for } => Self::DigMore { rows, look_for: owned(look_for) },
            Change::KeepAsIs => Self::KeepAsIs {},
        }
    }
}

/// The change in a sentence, in these units.
pub fn words(change: &Change, show: Show) -> String {
    match change {
        Change::Inspect { what, rows } => format!("Look first at {what}{}.", on_rows(rows)),
        Change::DownForce { from, to, by: _, setting } => {
            let verb = if to < from { "Lower" } else { "Raise" };
            let sizes = from_to(&show.down_force(*from), &show.down_force(*to));
            format!("{verb} the down force on every row from {sizes}{}.", set(setting, show))
        }
        Change::Depth { from, to, lever } => {
            let sizes = from_to(&show.depth(*from), &show.depth(*to));
            format!("Move the depth lever from {sizes}{}.", notch(*lever))
        }
        Change::Speed { from, to } => {
            let verb = if to < from { "Slow down" } else { "Speed up" };
            format!("{verb} from {}.", from_to(&show.speed(*from), &show.speed(*to)))
        }
        Change::CleanerHeight { to } => format!("Row cleaners: {}.", cleaner(*to)),
        Change::ClosingWheels { to, owned } => {
            let whence = if *owned { "from the shed" } else { "borrowed or bought" };
            let pair = pair(*to);
            format!("Closing wheels: try {pair}, {whence}, on two rows first and dig there.")
        }
        Change::ClosingSpring { to } => format!("Closing springs: {}.", spring(*to)),
        Change::Coulter { to } => format!("Coulters: {}.", coulter(*to)),
        Change::Wait { until } => format!("Wait until {until}."),
        Change::DigMore { rows: 0, look_for } => {
            format!("Dig the same rows again and look at {}.", look_for.join("; "))
        }
        Change::DigMore { rows, look_for } => {
            let noun = if *rows == 1 { "row" } else { "rows" };
            format!("Dig {rows} more {noun} and look at {}.", look_for.join("; "))
        }
        Change::KeepAsIs => "Go on planting as it is set.".to_owned(),
    }
}

/// How to set a down force, to follow its value in a sentence.
pub fn set(setting: &Setting, show: Show) -> String {
    match setting {
        Setting::WeightOnly => String::new(),
        Setting::Notch { label } => format!(": notch {label}"),
        Setting::Pressure { pressure, from: _ } => {
            format!(": set {}", quantity(&show.pressure(*pressure)))
        }
        Setting::Lift { force } => format!(": lift by {}", quantity(&show.down_force(*force))),
        Setting::Uncalibrated => ": calibrate first to know the pressure".to_owned(),
    }
}

fn notch(lever: Option<LeverPosition>) -> String {
    lever.map_or_else(String::new, |position| format!(", notch {}", position.notch))
}

const fn cleaner(to: Cleaner) -> &'static str {
    match to {
        Cleaner::NotFitted => "none fitted",
        Cleaner::Skim => "raise them until they just part the residue",
        Cleaner::Float => "let them float, just brushing",
        Cleaner::Lift => "lift them clear",
    }
}

const fn pair(to: Pair) -> &'static str {
    match to {
        Pair::Rubber => "two rubber wheels",
        Pair::CastIron => "two cast-iron wheels",
        Pair::SpikedAndRubber => "one spiked and one rubber wheel",
        Pair::TwoSpiked => "two spiked wheels",
        Pair::Finger => "finger wheels",
    }
}

const fn spring(to: Move) -> &'static str {
    match to {
        Move::Lighter => "one step lighter",
        Move::Tighter => "one step tighter",
    }
}

const fn coulter(to: Coulter) -> &'static str {
    match to {
        Coulter::NotFitted => "none fitted",
        Coulter::Run => "run them",
        Coulter::TakeOff => "take them off or lift them clear",
    }
}
