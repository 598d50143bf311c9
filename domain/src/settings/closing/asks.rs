//! What a field asks of closing wheels.

use serde::{Deserialize, Serialize};

use super::ClosingSpring;
use super::grades::Criterion;
use crate::conditions::{Conditions, Moisture, TextureClass, TextureGroup};
use crate::planter::ClosingPair;
use crate::provenance::{Coefficient, Coefficients, Mark, Reason, sources};

/// One thing that a field asks for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ask {
    /// What is asked for.
    pub criterion: Criterion,
    /// How much it counts, from the table of coefficients.
    pub weight: f64,
    /// Why.
    pub because: Reason,
}

/// What the slot is like to close.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slot {
    /// Wet: walls smear, wheels build up.
    Wet,
    /// Moist, medium or fine soil that was not tilled: walls stand.
    MoistHeavy,
    /// Moist, coarse soil: walls crumble by themselves.
    MoistLight,
    /// Dry: hard walls, moisture must be kept.
    Dry,
}

impl Slot {
    pub(super) fn of(c: &Conditions, matted: bool) -> Self {
        let group = c.texture.map_or(TextureGroup::Medium, TextureClass::group);
        let light = group <= TextureGroup::ModeratelyCoarse && !matted;
        match c.moisture.unwrap_or(Moisture::Moist) {
            Moisture::Wet | Moisture::AtCapacity => Self::Wet,
            Moisture::Dry => Self::Dry,
            Moisture::Moist | Moisture::SlightlyMoist if light => Self::MoistLight,
            Moisture::Moist | Moisture::SlightlyMoist => Self::MoistHeavy,
        }
    }

    /// What such a slot asks for.
    pub(super) fn asks(self, matted: bool, k: &Coefficients) -> Vec<Ask> {
        let mut asks = match self {
            Self::Wet => vec![
                ask(Criterion::BreaksWall, &k.ask_wall, WALLS_SMEAR),
                ask(Criterion::BearsWet, &k.ask_wet, BUILDS_UP),
            ],
            Self::MoistHeavy => vec![
                ask(Criterion::BreaksWall, &k.ask_wall, WALLS_STAND),
                ask(Criterion::Firms, &k.ask_firm, CONTACT),
                ask(Criterion::BearsWet, &k.ask_wet_moist, STICKS),
            ],
            Self::MoistLight => vec![
                ask(Criterion::Firms, &k.ask_firm_loose, LOOSE),
                ask(Criterion::BearsWet, &k.ask_wet_moist, STICKS),
            ],
            Self::Dry => vec![
                ask(Criterion::BreaksWall, &k.ask_wall, HARD_WALLS),
                ask(Criterion::Firms, &k.ask_firm_loose, CONTACT),
                ask(Criterion::KeepsMoisture, &k.ask_moisture, DRY),
            ],
        };
        if matted {
            asks.push(ask(Criterion::ClosesThroughMat, &k.ask_mat, MATTED));
        }
        asks.push(ask(Criterion::LeavesSeed, &k.ask_seed, SEED_STAYS));
        asks
    }

    pub(super) const fn spring(self, pair: ClosingPair) -> ClosingSpring {
        match (self, pair) {
            (Self::Wet, _) | (Self::MoistHeavy | Self::MoistLight, ClosingPair::CastIron) => {
                ClosingSpring::None
            }
            (Self::MoistHeavy | Self::MoistLight, _) | (Self::Dry, ClosingPair::CastIron) => {
                ClosingSpring::Light
            }
            (Self::Dry, _) => ClosingSpring::Medium,
        }
    }
}

const fn ask(criterion: Criterion, weight: &Coefficient, because: Reason) -> Ask {
    Ask { criterion, weight: weight.value, because }
}

const WALLS_SMEAR: Reason =
    Reason::fixed("wet walls smear and stand", Mark::Read, sources::MICHIGAN_SIDEWALL_LATER);
const BUILDS_UP: Reason = Reason::fixed(
    "wet soil builds up on smooth wheels",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL_LATER,
);
const WALLS_STAND: Reason = Reason::fixed(
    "moist soil that was not tilled keeps standing walls",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const CONTACT: Reason = Reason::fixed(
    "the seed wants soil pressed to it",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const STICKS: Reason =
    Reason::fixed("moist soil may stick", Mark::CommonPractice, sources::COMMON_PRACTICE);
const LOOSE: Reason = Reason::fixed(
    "coarse soil falls in by itself and wants firming",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const HARD_WALLS: Reason = Reason::fixed(
    "dry walls are hard and do not fall in",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const DRY: Reason = Reason::fixed(
    "dry soil: the slot must keep its moisture",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const MATTED: Reason =
    Reason::fixed("residue or a mat lies over the slot", Mark::Read, sources::DREWRY_2020);
const SEED_STAYS: Reason = Reason::fixed(
    "the seed must stay where the opener put it",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
