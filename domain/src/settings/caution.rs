//! Cautions that go with every sheet: what can hurt somebody.

use serde::{Deserialize, Serialize};

use super::closing::{ClosingAdvice, ClosingSpring};
use super::coulter::{CoulterAdvice, CoulterUse};
use super::row_cleaner::RowCleanerAdvice;
use crate::conditions::WrapRisk;
use crate::planter::{DiscVerdict, DownForce, Planter};
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
    /// Folded wings and raised markers.
    WingsAndMarkers,
    /// What sticks to the parts that are handled.
    ResiduesOnParts,
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
            Self::WingsAndMarkers => Reason::fixed(
                "Folded wings and raised markers come down on their own: pin them before anybody goes under.",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ),
            Self::ResiduesOnParts => Reason::fixed(
                "Seed treatment, fertilizer and herbicide stick to the parts: gloves, eye and breathing protection when you clean or change them.",
                Mark::Read,
                sources::WISCONSIN_CHECKUP,
            ),
            Self::TreatedSeedLabel => Reason::fixed(
                "Treated seed: the tag on the bag is the law. Gloves, eyes and breathing as it says; wind at your back when you fill; its dust can harm you and bees, and talc or graphite does not bind it.",
                Mark::Read,
                sources::SEED_DUST,
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

/// What is done to the planter, as far as it can hurt somebody.
#[derive(Debug, Clone, Copy)]
pub struct Handling<'a> {
    /// The planter.
    pub planter: &'a Planter,
    /// What was advised on closing.
    pub closing: &'a ClosingAdvice,
    /// What was advised on the coulter.
    pub coulter: &'a CoulterAdvice,
    /// What was advised on the row cleaner.
    pub row_cleaner: &'a RowCleanerAdvice,
    /// What is to be done with the opener discs.
    pub discs: DiscVerdict,
}

/// The cautions for what is handled here.
pub fn cautions(handling: Handling<'_>) -> Vec<Caution> {
    let Handling { planter, closing, coulter, row_cleaner, discs } = handling;
    let source = &planter.down_force;
    let springs = matches!(source, DownForce::Spring { .. })
        || closing.change
        || closing.spring != ClosingSpring::None;
    let by_hand = closing.change
        || coulter.coulter == CoulterUse::TakeOff
        || row_cleaner.wrap > WrapRisk::Low
        || discs == DiscVerdict::Replace;
    let list = [
        (true, Caution::BlockAndRelieve),
        (springs, Caution::SpringsStoreEnergy),
        (matches!(source, DownForce::AirBag { .. }), Caution::AirUnderPressure),
        (matches!(source, DownForce::Hydraulic { .. }), Caution::OilUnderPressure),
        (planter.frame.len() > 1, Caution::WingsAndMarkers),
        (by_hand, Caution::ResiduesOnParts),
        (true, Caution::DiggingBehind),
        (true, Caution::TreatedSeedLabel),
        (true, Caution::InFurrowLabel),
        (true, Caution::ManualWins),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, caution)| caution).collect()
}
