//! Cautions that go with every sheet: what can hurt somebody.

use serde::{Deserialize, Serialize};

use crate::planter::{DownForce, Planter};
use crate::provenance::{Mark, Reason, sources};

/// A caution by its name, so that programs can rely on it; the words are in [`Caution::reason`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// Block a raised planter; relieve pressure.
    BlockAndRelieve,
    /// Springs store energy.
    SpringsStoreEnergy,
    /// Air bags hold pressure.
    AirUnderPressure,
    /// Oil under pressure.
    OilUnderPressure,
    /// Treated seed.
    TreatedSeedLabel,
    /// In-furrow products.
    InFurrowLabel,
    /// Digging behind the planter.
    DiggingBehind,
    /// Manual, local rules and licensed practice.
    ManualWins,
}

impl Caution {
    /// The sentence that a person reads.
    pub const fn reason(self) -> Reason {
        match self {
            Self::BlockAndRelieve => Reason::fixed(
                "Before you reach under the planter: level ground, wheels blocked, planter locked or blocked up, never held by hydraulics alone; tractor in park, key out; air and oil pressure relieved.",
                Mark::Read,
                sources::WISCONSIN_CHECKUP,
            ),
            Self::SpringsStoreEnergy => Reason::fixed(
                "Springs store energy: take the load off before you move a notch, and keep hands out of the line of the spring.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::AirUnderPressure => Reason::fixed(
                "Air bags push even when the tractor is off: let the air out before you work on a unit.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::OilUnderPressure => Reason::fixed(
                "Oil under pressure goes through skin: never feel for a leak with your hand; see a doctor at once if it happens.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::TreatedSeedLabel => Reason::fixed(
                "Treated seed: the tag on the bag is the law. Gloves, eyes and breathing as it says; wind at your back when you fill.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::InFurrowLabel => Reason::fixed(
                "Anything in the furrow: rate, crop, placement and gear are on its label, and the label is the law.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::DiggingBehind => Reason::fixed(
                "Digging: planter stopped and parked, the driver sees you, nobody between or under raised units.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::ManualWins => Reason::fixed(
                "The machine's manual, the label, local rules and licensed practice come before this sheet.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
        }
    }
}

/// The cautions for a planter.
pub fn cautions(planter: &Planter) -> Vec<Caution> {
    let mut list = vec![Caution::BlockAndRelieve];
    match planter.down_force {
        DownForce::WeightOnly => {}
        DownForce::Spring { .. } => list.push(Caution::SpringsStoreEnergy),
        DownForce::AirBag { .. } => list.push(Caution::AirUnderPressure),
        DownForce::Hydraulic { .. } => list.push(Caution::OilUnderPressure),
    }
    list.extend([
        Caution::DiggingBehind,
        Caution::TreatedSeedLabel,
        Caution::InFurrowLabel,
        Caution::ManualWins,
    ]);
    list
}
