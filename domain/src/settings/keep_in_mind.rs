//! What a practitioner keeps in mind beside the settings, by what applies here.

use super::down_force::DownForceAdvice;
use crate::conditions::{Conditions, CoverState, Moisture};
use crate::planter::{Cleaner, DiscVerdict, FrameVerdict, Planter};
use crate::provenance::{Mark, Reason, sources};

/// What to keep in mind with these settings. Nothing here can hurt somebody: that is in the
/// cautions.
pub(super) fn keep_in_mind(
    planter: &Planter,
    field: &Conditions,
    force: &DownForceAdvice,
    discs: DiscVerdict,
) -> Vec<Reason> {
    let wet = matches!(field.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    let green = field.cover.is_some_and(|c| c.state.is_none_or(CoverState::is_green));
    let cleaner = planter.unit.cleaner != Cleaner::None;
    let arms = planter.unit.arms;
    let bar_unknown = arms.angle.is_none() && arms.bar_too_high.is_none();
    let list = [
        (true, STARTING_VALUES),
        (wet, WET_SOIL),
        (discs != DiscVerdict::Keep || cleaner, LOOK_FIRST),
        (bar_unknown, BAR_HEIGHT),
        (force.frame != FrameVerdict::Holds, FRAME_WEIGHT),
        (green, PLANTING_GREEN),
        (true, NOT_BUSHELS),
    ];
    list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}

const STARTING_VALUES: Reason = Reason::fixed(
    "these are values to start with: dig again on every change of soil, moisture, residue, speed and seed load; a display alone can mislead, because it smooths",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const WET_SOIL: Reason = Reason::fixed(
    "wet soil: driving slower or waiting beats adding force; a smeared wall cannot be repaired",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL,
);
const LOOK_FIRST: Reason = Reason::fixed(
    "look at disc wear, disc touch, bar height and cleaner height before you touch force: a worn unit or a deep cleaner looks like missing down force",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const BAR_HEIGHT: Reason = Reason::fixed(
    "measure the height of the bar with the down force at zero",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const FRAME_WEIGHT: Reason = Reason::fixed(
    "where the frame lacks weight, more pressure lifts the bar: wings first, empty tanks worst; meters driven from the ground then sow too few seeds",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const PLANTING_GREEN: Reason = Reason::fixed(
    "planting green: expect more force, stems on the cleaners, wet straw in the morning, and rows that differ; row cleaners are optional there and sources differ on them",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const NOT_BUSHELS: Reason = Reason::fixed(
    "yield effects of down force differ from trial to trial: judge it by depth and contact",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
