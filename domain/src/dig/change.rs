//! The one change that a dig proposes.

use serde::{Deserialize, Serialize};

use crate::planter::{ClosingPair, LeverPosition, Setting};
use crate::provenance::{Step, Text};
use crate::quantity::{Force, Length, Speed};
use crate::settings::{CleanerUse, CoulterUse};

/// What to do. Exactly one thing, so that the next dig shows what it did.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Change {
    /// Look at something first.
    Inspect {
        /// What to look at.
        what: Text,
        /// On which rows; empty means all.
        rows: Vec<u16>,
    },
    /// Another down force on every row.
    DownForce {
        /// What it was.
        from: Force,
        /// What it should be.
        to: Force,
        /// The difference; negative is less.
        by: Force,
        /// How to set it on this planter.
        setting: Setting,
    },
    /// Another depth.
    Depth {
        /// What the lever stood for.
        from: Length,
        /// What it should stand for.
        to: Length,
        /// The notch, where the steps of the lever are known.
        lever: Option<LeverPosition>,
    },
    /// Another speed.
    Speed {
        /// What was driven.
        from: Speed,
        /// What to drive.
        to: Speed,
    },
    /// Set the row cleaners otherwise.
    CleanerHeight {
        /// How to run them.
        to: CleanerUse,
    },
    /// Other closing wheels.
    ClosingWheels {
        /// The pair to try, on two rows first.
        to: ClosingPair,
        /// Whether it hangs in the shed.
        owned: bool,
    },
    /// Another tension of the closing springs.
    ClosingSpring {
        /// Which way.
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
        until: Text,
    },
    /// Dig more before anything is changed.
    DigMore {
        /// How many more rows; 0 means the same rows, looked at more closely.
        rows: u16,
        /// What to look at.
        look_for: Vec<Text>,
    },
    /// Go on planting.
    KeepAsIs,
}

/// Which way to move a spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpringMove {
    /// One step lighter.
    Lighter,
    /// One step tighter.
    Tighter,
}

/// A warning about a number of the proposal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Flag {
    /// The dig implies a soil resistance outside what is possible: something else is wrong.
    ImplausibleResistance,
    /// The change was held to the largest step.
    HeldToLargestStep,
    /// The change was held to one notch: only in what engines before 2026.3 stored.
    HeldToOneNotch,
    /// The change was held by what the source of force can give.
    HeldToReach,
    /// The change was held by the weight of the frame.
    HeldByFrame,
    /// The force is known, its pressure is not: nobody calibrated the bags.
    Uncalibrated,
}

/// A change with what belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Action {
    pub change: Change,
    pub next: Vec<Text>,
    pub flags: Vec<Flag>,
    pub steps: Vec<Step>,
}

impl Action {
    pub(super) fn of(change: Change) -> Self {
        Self { change, next: Vec::new(), flags: Vec::new(), steps: Vec::new() }
    }

    pub(super) fn inspect(what: &'static str, rows: &[u16]) -> Self {
        Self::of(Change::Inspect { what: Text::Borrowed(what), rows: rows.to_vec() })
    }

    pub(super) fn wait(until: &'static str) -> Self {
        Self::of(Change::Wait { until: Text::Borrowed(until) })
    }

    /// Adds what should be seen at the next dig if the reading was right.
    pub(super) fn then_see(mut self, words: impl Into<Text>) -> Self {
        self.next.push(words.into());
        self
    }
}
