//! What goes into an analysis: a trial as it was laid out, and what its plots gave.

use serde::{Deserialize, Serialize};

/// A trial with what was measured. All values are in one unit, the one that the words use.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Trial {
    /// How treatments were put on the ground.
    pub design: DesignKind,
    /// Names of the treatments as they stand in a sentence: "spiked wheels". Plots name them by
    /// their place in this list.
    pub treatments: Vec<String>,
    /// The treatment that the others are held against: what the grower does today. Without one all
    /// pairs are compared.
    pub control: Option<usize>,
    /// The plots, in any order. A plot that was lost is left out, or has no values.
    pub plots: Vec<Plot>,
    /// Whether chance decided which plot got which treatment.
    pub randomised: bool,
    /// How sure intervals are.
    pub confidence: Confidence,
    /// What was measured.
    pub response: Response,
    /// The smallest difference that would matter, above 0, in the unit of the values: what would pay
    /// for the part. `None` when nobody said.
    pub matters: Option<f64>,
}

/// How treatments were put on the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DesignKind {
    /// Two treatments side by side, again and again: each pair is a block.
    Paired,
    /// Every treatment once in each block, in an order of its own.
    RandomisedBlocks,
    /// Treatments anywhere in the field; what stands in `block` is not used.
    CompletelyRandomised,
    /// Row units of one planter carry different parts: each pass is a block.
    SplitPlanter,
}

impl DesignKind {
    /// Whether plots lie in blocks.
    pub fn blocked(self) -> bool {
        self != Self::CompletelyRandomised
    }
}

/// One plot: the ground that got one treatment once.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plot {
    /// Place of its treatment in [`Trial::treatments`].
    pub treatment: usize,
    /// Its block (pair, pass), counted from 0.
    pub block: usize,
    /// What was measured in it: one value, or one for each dig, count or row. They are averaged:
    /// several digs in one strip are not replications.
    pub values: Vec<f64>,
}

/// How sure an interval is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Confidence {
    /// 90 %: usual in some networks of on-farm trials.
    Ninety,
    /// 95 %: usual.
    NinetyFive,
}

impl Confidence {
    /// As a share.
    pub fn share(self) -> f64 {
        match self {
            Self::Ninety => 0.90,
            Self::NinetyFive => 0.95,
        }
    }

    /// The chance of a false alarm that goes with it.
    pub fn alpha(self) -> f64 {
        match self {
            Self::Ninety => 0.10,
            Self::NinetyFive => 0.05,
        }
    }

    /// In percent.
    pub fn percent(self) -> u8 {
        match self {
            Self::Ninety => 90,
            Self::NinetyFive => 95,
        }
    }
}

/// What was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Response {
    /// As it stands in a sentence: "yield", "seeds within tolerance".
    pub what: String,
    /// The unit as people write it: "bu/ac", "%". Empty for a plain number.
    pub unit: String,
    /// Which way is better.
    pub better: Better,
    /// Whether it has ends.
    pub scale: Scale,
}

/// Which way is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Better {
    /// More is better: yield, emergence.
    Higher,
    /// Less is better: spread of depth, gaps.
    Lower,
    /// Neither in itself: depth.
    Neither,
}

/// Whether a response has ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Scale {
    /// Any number: yield, depth.
    Measure,
    /// A share from 0 to 100 %: emergence, seeds at depth, furrows closed.
    Percent,
}

/// Why a trial can't be analysed: the plots contradict themselves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum TrialError {
    /// A comparison needs two treatments.
    #[error("a comparison needs at least two treatments")]
    OneTreatment,
    /// A paired trial has two.
    #[error("a paired trial has two treatments, here are {0}")]
    NotAPair(usize),
    /// No such control.
    #[error("the control is treatment {0} of the list, which is not there")]
    NoSuchControl(usize),
    /// A plot names a treatment that is not there.
    #[error("plot {plot} names treatment {treatment} of the list, which is not there")]
    NoSuchTreatment {
        /// Place of the plot in the list.
        plot: usize,
        /// The treatment that it names.
        treatment: usize,
    },
    /// The same treatment twice in one block: entered twice, or not a block.
    #[error(
        "plot {plot} is the second one of its treatment in its block; plot {first} is the first"
    )]
    Twice {
        /// Place of the plot in the list.
        plot: usize,
        /// Place of the plot that came before.
        first: usize,
    },
    /// A value that is no number.
    #[error("plot {plot} holds a value that is no number")]
    NotANumber {
        /// Place of the plot in the list.
        plot: usize,
    },
    /// A share outside 0 to 100 %.
    #[error("plot {plot} holds a share outside 0 to 100 %")]
    NoShare {
        /// Place of the plot in the list.
        plot: usize,
    },
    /// The smallest difference that would matter is not above 0.
    #[error("the smallest difference that matters must lie above 0")]
    NothingMatters,
    /// No plot of a split-plot trial is left of a part at a level of the whole plots.
    #[error("no plot is left of part {part} at level {whole} of the whole plots")]
    NoneLeft {
        /// Level on whole plots, by its place in the list.
        whole: usize,
        /// Level on parts, by its place in the list.
        part: usize,
    },
    /// Blocks share so few treatments that one can't be told from the other.
    #[error("the blocks that are left share too few treatments to be compared")]
    NotJoined,
    /// No plot has a value.
    #[error("no plot has a value")]
    NoValues,
}
