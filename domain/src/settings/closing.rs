//! Closing wheels: which pair, how much spring, what to try on two rows first.

use serde::{Deserialize, Serialize};

use crate::conditions::{
    Conditions, CoverState, Moisture, TextureClass, TextureGroup, mat_fraction,
};
use crate::planter::{ClosingPair, Planter};
use crate::provenance::{Advice, Assumed, Coefficients, Mark, Reason, sources};

/// Tension of the closing spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClosingSpring {
    /// No spring: the wheels float by their weight.
    None,
    /// The lightest notch that closes.
    Light,
    /// A middle notch.
    Medium,
}

/// The advice on closing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClosingAdvice {
    /// The pair to run, of those that are fitted or owned.
    pub pair: ClosingPair,
    /// Whether that pair must be fitted first.
    pub change: bool,
    /// How tight.
    pub spring: ClosingSpring,
    /// A pair to try on two rows before the rest is changed; owned, or worth borrowing.
    pub try_on_two_rows: Option<ClosingPair>,
    /// Whether to hang a drag chain behind two spiked wheels.
    pub drag_chain: bool,
}

/// Works out how to close the slot.
///
/// Of the pairs that are fitted or owned, the one best suited to slot, moisture and residue is
/// run. A better one that nobody owns is named as worth a try on two rows. Every pound of closing
/// force comes off the gauge wheels.
pub fn closing(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<ClosingAdvice> {
    let mat = mat_fraction(c, k).likely;
    let slot = Slot::of(c, mat);
    let order = slot.order();
    let fitted = p.unit.closing;
    let at_hand = |pair: &ClosingPair| *pair == fitted || p.closing_owned.contains(pair);
    let pair = order.into_iter().find(at_hand).unwrap_or(fitted);
    let change = pair != fitted;
    let best = order.into_iter().next().unwrap_or(pair);
    let try_on_two_rows = if change { Some(pair) } else { (best != pair).then_some(best) };
    let mut watch = vec![LESS_LOAD];
    if let Some(other) = try_on_two_rows {
        watch.push(try_first(other, change));
    }
    watch.extend(cautions_for(pair, c, mat));
    Advice {
        choice: ClosingAdvice {
            pair,
            change,
            spring: slot.spring(pair),
            try_on_two_rows,
            drag_chain: pair == ClosingPair::TwoSpiked,
        },
        because: because(slot, pair, mat),
        watch,
        assumed: assumed_of(c),
    }
}

/// What the slot is like to close.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Slot {
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
    fn of(c: &Conditions, mat: f64) -> Self {
        let group = c.texture.map_or(TextureGroup::Medium, TextureClass::group);
        let light = group <= TextureGroup::ModeratelyCoarse && mat < MATTED;
        match c.moisture.unwrap_or(Moisture::Moist) {
            Moisture::Wet | Moisture::AtCapacity => Self::Wet,
            Moisture::Dry => Self::Dry,
            Moisture::Moist | Moisture::SlightlyMoist if light => Self::MoistLight,
            Moisture::Moist | Moisture::SlightlyMoist => Self::MoistHeavy,
        }
    }

    /// Pairs by how well they suit, the best first.
    const fn order(self) -> [ClosingPair; 5] {
        use ClosingPair::{CastIron, Finger, Rubber, SpikedAndRubber, TwoSpiked};
        match self {
            Self::Wet => [Finger, SpikedAndRubber, TwoSpiked, CastIron, Rubber],
            Self::MoistHeavy => [SpikedAndRubber, CastIron, TwoSpiked, Finger, Rubber],
            Self::MoistLight => [CastIron, Rubber, SpikedAndRubber, Finger, TwoSpiked],
            Self::Dry => [CastIron, SpikedAndRubber, Rubber, TwoSpiked, Finger],
        }
    }

    const fn spring(self, pair: ClosingPair) -> ClosingSpring {
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

fn because(slot: Slot, pair: ClosingPair, mat: f64) -> Vec<Reason> {
    let mut reasons = match slot {
        Slot::Wet => vec![WET_SPRING],
        Slot::MoistHeavy => vec![HEAVY_SPRING],
        Slot::MoistLight => vec![LIGHT_SOIL],
        Slot::Dry => vec![DRY_SOIL],
    };
    reasons.push(reason_for(pair));
    if mat >= MATTED && pair != ClosingPair::Rubber {
        reasons.push(MAT);
    }
    reasons
}

const fn reason_for(pair: ClosingPair) -> Reason {
    match pair {
        ClosingPair::Rubber => RUBBER,
        ClosingPair::CastIron => CAST_IRON,
        ClosingPair::SpikedAndRubber => SPIKED_AND_RUBBER,
        ClosingPair::TwoSpiked => TWO_SPIKED,
        ClosingPair::Finger => FINGER,
    }
}

fn cautions_for(pair: ClosingPair, c: &Conditions, mat: f64) -> Vec<Reason> {
    let spiked = matches!(pair, ClosingPair::SpikedAndRubber | ClosingPair::TwoSpiked);
    let wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let dry = matches!(c.moisture, Some(Moisture::Dry));
    let standing = c.cover.and_then(|cover| cover.state) == Some(CoverState::GreenStanding);
    let list = [
        (pair == ClosingPair::Rubber && mat >= MATTED, RUBBER_IN_MAT),
        (pair == ClosingPair::Rubber && wet, RUBBER_BUILDS_UP),
        (pair == ClosingPair::TwoSpiked && dry, SPIKES_DRY),
        (pair == ClosingPair::SpikedAndRubber, SET_THE_GAP),
        (spiked, SPIKES_PULL),
        (spiked && standing, SPIKES_AND_STEMS),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

fn try_first(pair: ClosingPair, owned: bool) -> Reason {
    let name = words(pair);
    let text = if owned {
        format!("put {name} on two rows first, dig, and change the rest if they close better")
    } else {
        format!("{name} would suit better: borrow a pair for two rows, and dig beside the others")
    };
    Reason::made(text, Mark::Proposal, sources::OWN_CHOICE)
}

/// The words people use for a pair.
const fn words(pair: ClosingPair) -> &'static str {
    match pair {
        ClosingPair::Rubber => "two rubber wheels",
        ClosingPair::CastIron => "two cast-iron wheels",
        ClosingPair::SpikedAndRubber => "one spiked and one rubber wheel",
        ClosingPair::TwoSpiked => "two spiked wheels",
        ClosingPair::Finger => "finger wheels",
    }
}

fn assumed_of(c: &Conditions) -> Vec<Assumed> {
    let gap = |what: &'static str, used: &'static str, instead: &'static str| Assumed {
        what: what.into(),
        used: used.into(),
        range: None,
        instead: instead.into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    };
    let mut assumed = Vec::new();
    if c.moisture.is_none() {
        assumed.push(gap(
            "moisture at seed depth",
            "moist",
            "squeeze soil from seed depth and report how it feels",
        ));
    }
    if c.texture.is_none() {
        assumed.push(gap(
            "texture of the topsoil",
            "medium",
            "feel the texture, or look at the soil survey",
        ));
    }
    assumed
}

/// Share of the path under residue and mat from which the slot counts as matted.
const MATTED: f64 = 0.5;

const LESS_LOAD: Reason = Reason::fixed(
    "every pound of closing force comes off the gauge wheels; too much lifts the unit",
    Mark::Read,
    sources::PENN_CLOSING,
);
const WET_SPRING: Reason =
    Reason::fixed("wet soil: light, or no spring at all", Mark::Read, sources::IOWA_WET);
const HEAVY_SPRING: Reason = Reason::fixed(
    "moist soil with standing walls: light spring, shut from the bottom up, do not crush",
    Mark::Read,
    sources::IOWA_SETTINGS,
);
const LIGHT_SOIL: Reason = Reason::fixed(
    "coarse, moist soil crumbles into the slot: firm it gently",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const DRY_SOIL: Reason = Reason::fixed(
    "dry soil: firm the slot so that it keeps its moisture",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const RUBBER: Reason = Reason::fixed(
    "rubber wheels firm mellow soil well",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const CAST_IRON: Reason = Reason::fixed(
    "cast iron closes most soils by its own weight and seldom needs spring",
    Mark::Read,
    sources::PENN_CLOSING,
);
const SPIKED_AND_RUBBER: Reason = Reason::fixed(
    "cool, moist, heavy soil: the spike breaks one wall, the rubber firms the other",
    Mark::Read,
    sources::COLORADO_TEN,
);
const TWO_SPIKED: Reason = Reason::fixed(
    "two spiked wheels with a drag chain break both walls where no-till closes hard",
    Mark::Read,
    sources::COLORADO_TEN,
);
const FINGER: Reason = Reason::fixed(
    "finger wheels leave wetter soil looser over the seed",
    Mark::Read,
    sources::IOWA_WET,
);
const MAT: Reason = Reason::fixed(
    "residue or mat: wheels other than plain rubber gave 2 % more emergence at three no-till sites, yield unchanged",
    Mark::Read,
    sources::DREWRY_2020,
);
const RUBBER_IN_MAT: Reason = Reason::fixed(
    "plain rubber may leave a no-till slot open",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const RUBBER_BUILDS_UP: Reason = Reason::fixed(
    "soil that builds up on rubber wheels says that it is too wet",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL_LATER,
);
const SPIKES_DRY: Reason = Reason::fixed(
    "two spiked wheels dry the slot out",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SET_THE_GAP: Reason =
    Reason::fixed("set the gap between the two wheels", Mark::Read, sources::COLORADO_TEN);
const SPIKES_PULL: Reason = Reason::fixed(
    "go easy with spikes: they can pull seed up",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SPIKES_AND_STEMS: Reason = Reason::fixed(
    "look for stems wound around the spikes",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
