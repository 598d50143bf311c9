//! What a pair of closing wheels is good for: six criteria, 0 to 3.

use serde::{Deserialize, Serialize};

use crate::planter::ClosingPair;
use crate::provenance::{Coefficient, Coefficients, Mark, Text};

/// What closing wheels are judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Criterion {
    /// Breaks the wall of the slot.
    BreaksWall,
    /// Firms soil to the seed.
    Firms,
    /// Bears wet, sticky soil.
    BearsWet,
    /// Keeps moisture in the slot.
    KeepsMoisture,
    /// Closes through residue and mat.
    ClosesThroughMat,
    /// Leaves the seed where it lies.
    LeavesSeed,
}

impl Criterion {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::BreaksWall,
        Self::Firms,
        Self::BearsWet,
        Self::KeepsMoisture,
        Self::ClosesThroughMat,
        Self::LeavesSeed,
    ];

    /// Its weight and its grade in a formula.
    pub(super) const fn symbols(self) -> (&'static str, &'static str) {
        match self {
            Self::BreaksWall => ("w_wall", "k_wall"),
            Self::Firms => ("w_firm", "k_firm"),
            Self::BearsWet => ("w_wet", "k_wet"),
            Self::KeepsMoisture => ("w_keep", "k_keep"),
            Self::ClosesThroughMat => ("w_mat", "k_mat"),
            Self::LeavesSeed => ("w_seed", "k_seed"),
        }
    }

    /// The words people use.
    pub const fn words(self) -> &'static str {
        match self {
            Self::BreaksWall => "breaks the wall",
            Self::Firms => "firms",
            Self::BearsWet => "bears wet soil",
            Self::KeepsMoisture => "keeps moisture in",
            Self::ClosesThroughMat => "closes through a mat",
            Self::LeavesSeed => "leaves the seed where it lies",
        }
    }
}

/// How good a pair is at one thing, and what that counts here.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Grade {
    /// At what.
    pub criterion: Criterion,
    /// How good, 0 to 3.
    pub grade: f64,
    /// Grade times what this field asks for it; 0 where it does not ask.
    pub counts: f64,
    /// What the grade says, in words.
    pub what: Text,
    /// How the grade is known.
    pub mark: Mark,
    /// Where what it says stands.
    pub source: Text,
}

/// The row of the table of coefficients for a pair and a criterion.
pub(super) const fn grade(
    pair: ClosingPair,
    criterion: Criterion,
    k: &Coefficients,
) -> &Coefficient {
    match criterion {
        Criterion::BreaksWall => match pair {
            ClosingPair::Rubber => &k.closing_rubber_wall,
            ClosingPair::CastIron => &k.closing_iron_wall,
            ClosingPair::SpikedAndRubber => &k.closing_mixed_wall,
            ClosingPair::TwoSpiked => &k.closing_spiked_wall,
            ClosingPair::Finger => &k.closing_finger_wall,
        },
        Criterion::Firms => match pair {
            ClosingPair::Rubber => &k.closing_rubber_firm,
            ClosingPair::CastIron => &k.closing_iron_firm,
            ClosingPair::SpikedAndRubber => &k.closing_mixed_firm,
            ClosingPair::TwoSpiked => &k.closing_spiked_firm,
            ClosingPair::Finger => &k.closing_finger_firm,
        },
        Criterion::BearsWet => match pair {
            ClosingPair::Rubber => &k.closing_rubber_wet,
            ClosingPair::CastIron => &k.closing_iron_wet,
            ClosingPair::SpikedAndRubber => &k.closing_mixed_wet,
            ClosingPair::TwoSpiked => &k.closing_spiked_wet,
            ClosingPair::Finger => &k.closing_finger_wet,
        },
        Criterion::KeepsMoisture => match pair {
            ClosingPair::Rubber => &k.closing_rubber_moisture,
            ClosingPair::CastIron => &k.closing_iron_moisture,
            ClosingPair::SpikedAndRubber => &k.closing_mixed_moisture,
            ClosingPair::TwoSpiked => &k.closing_spiked_moisture,
            ClosingPair::Finger => &k.closing_finger_moisture,
        },
        Criterion::ClosesThroughMat => match pair {
            ClosingPair::Rubber => &k.closing_rubber_mat,
            ClosingPair::CastIron => &k.closing_iron_mat,
            ClosingPair::SpikedAndRubber => &k.closing_mixed_mat,
            ClosingPair::TwoSpiked => &k.closing_spiked_mat,
            ClosingPair::Finger => &k.closing_finger_mat,
        },
        Criterion::LeavesSeed => match pair {
            ClosingPair::Rubber => &k.closing_rubber_seed,
            ClosingPair::CastIron => &k.closing_iron_seed,
            ClosingPair::SpikedAndRubber => &k.closing_mixed_seed,
            ClosingPair::TwoSpiked => &k.closing_spiked_seed,
            ClosingPair::Finger => &k.closing_finger_seed,
        },
    }
}
