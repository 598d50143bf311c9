//! The reasons and warnings of closing.

use super::asks::Slot;
use super::ranking::{AtHand, RankedPair};
use super::{ClosingWheels, Maybe, Pass, gathers_stems, is_shallow, is_wet};
use crate::conditions::{Conditions, CoverState, Moisture};
use crate::planter::ClosingPair;
use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::Measured;

/// Where the wheels run.
pub(super) struct Place<'a> {
    pub(super) wheels: ClosingWheels<'a>,
    pub(super) matted: bool,
}

pub(super) fn because(slot: Slot, pair: ClosingPair, matted: bool) -> Vec<Reason> {
    let mut reasons = match slot {
        Slot::Wet => vec![WET_SPRING],
        Slot::MoistHeavy => vec![HEAVY_SPRING],
        Slot::MoistLight => vec![LIGHT_SOIL],
        Slot::Dry => vec![DRY_SOIL],
    };
    reasons.push(match pair {
        ClosingPair::Rubber => RUBBER,
        ClosingPair::CastIron => CAST_IRON,
        ClosingPair::SpikedAndRubber => SPIKED_AND_RUBBER,
        ClosingPair::TwoSpiked => TWO_SPIKED,
        ClosingPair::Finger => FINGER,
    });
    if matted && pair != ClosingPair::Rubber {
        reasons.push(MAT);
    }
    reasons
}

pub(super) fn cautions_for(pair: ClosingPair, c: &Conditions, place: &Place<'_>) -> Vec<Reason> {
    let spiked = matches!(pair, ClosingPair::SpikedAndRubber | ClosingPair::TwoSpiked);
    let dry = matches!(c.moisture, Some(Moisture::Dry));
    let standing = c.cover.and_then(|cover| cover.state) == Some(CoverState::GreenStanding);
    let worn = pair == place.wheels.fitted && pair != ClosingPair::Rubber;
    let list = [
        (pair == ClosingPair::Rubber && place.matted, RUBBER_IN_MAT),
        (pair == ClosingPair::Rubber && is_wet(c), RUBBER_BUILDS_UP),
        (pair == ClosingPair::TwoSpiked && dry, SPIKES_DRY),
        (pair == ClosingPair::TwoSpiked && gathers_stems(c), NO_CHAIN),
        (pair == ClosingPair::SpikedAndRubber, SET_THE_GAP),
        (spiked, SPIKES_PULL),
        (spiked && standing, SPIKES_AND_STEMS),
        (spiked && worn, WORN_SPIKES),
        (is_wet(c), ONE_WET_SPOT),
        (!is_wet(c), LIFT_BY_HAND),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

/// What depth and speed do to closing.
pub(super) fn by_pass(pair: ClosingPair, slot: Slot, pass: Pass, k: &Coefficients) -> Vec<Reason> {
    let shallow = is_shallow(pass.depth, k) && slot != Slot::MoistLight;
    let fast = pass.speed.si() > k.reference_speed.value * 0.447_04 + 1e-6;
    let pulls = is_shallow(pass.depth, k) && pair == ClosingPair::TwoSpiked;
    let list = [(shallow, SHALLOW_OPENS), (pulls, SHALLOW_SPIKES), (fast, FAST_IS_LOOSE)];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

/// Said where another pair at hand is nearly as good.
pub(super) fn close_call(order: &[RankedPair], pair: ClosingPair, k: &Coefficients) -> Maybe {
    let mut at_hand = order.iter().filter(|ranked| ranked.at_hand != AtHand::NotOwned);
    let best = at_hand.next()?;
    let next = at_hand.next()?;
    let near = &k.close_call;
    (best.pair == pair && best.points - next.points < near.value).then(|| {
        let text = format!(
            "a close call between {} and {}: run both on neighbouring rows, dig, and keep what closes",
            words(pair),
            words(next.pair)
        );
        Reason::made(text, near.mark, near.source.clone())
    })
}

pub(super) fn try_first(pair: ClosingPair, owned: bool, rows: u16) -> Reason {
    let name = words(pair);
    let which = if rows < 4 {
        "one row first, away from the tyre tracks"
    } else {
        "two rows first, neither outer ones nor in a tyre track"
    };
    let text = if owned {
        format!("put {name} on {which}, dig, and change the rest if they close better")
    } else {
        format!("{name} would suit better: borrow a pair for {which}, and dig beside the others")
    };
    Reason::made(text, Mark::Proposal, sources::OWN_CHOICE)
}

/// The words people use for a pair.
pub(super) const fn words(pair: ClosingPair) -> &'static str {
    match pair {
        ClosingPair::Rubber => "two rubber wheels",
        ClosingPair::CastIron => "two cast-iron wheels",
        ClosingPair::SpikedAndRubber => "one spiked and one rubber wheel",
        ClosingPair::TwoSpiked => "two spiked wheels",
        ClosingPair::Finger => "finger wheels",
    }
}

pub(super) const LESS_LOAD: Reason = Reason::fixed(
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
const NO_CHAIN: Reason = Reason::fixed(
    "leave the drag chain off in a living or dying cover: it gathers stems",
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
const WORN_SPIKES: Reason = Reason::fixed(
    "worn spikes lower the tail and close worse: measure them",
    Mark::Read,
    sources::NEBRASKA_CLOSING,
);
const ONE_WET_SPOT: Reason = Reason::fixed(
    "one wet spot that stays open: do not set the whole field for it",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const LIFT_BY_HAND: Reason = Reason::fixed(
    "planter down and everything off: each closing frame lifts an inch with moderate effort; two fingers is too little, not at all is too much",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const SHALLOW_OPENS: Reason = Reason::fixed(
    "angled closing wheels work best at about 2 in; a shallower slot opens up again",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL_LATER,
);
const SHALLOW_SPIKES: Reason = Reason::fixed(
    "two spiked wheels reach a shallow seed: run a firmer, or another pair",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const FAST_IS_LOOSE: Reason = Reason::fixed(
    "faster driving leaves the slot less firm: in one test the cone index behind the planter fell with speed",
    Mark::Read,
    sources::PLANTER_CONE_INDEX,
);
