//! When readings of cover and residue contradict each other.

use uom::si::length::inch;

use super::super::cover::{pounds_per_acre, rule_span};
use super::super::cover_crop::{CoverCrop, CoverStage, CoverState};
use super::super::report::{Conditions, PreviousCrop, ResidueFeel};
use crate::provenance::Coefficients;
use crate::quantity::Measured;

/// Below this a cover has no height to speak of, in inches.
const FLAT_IN: f64 = 1.0;
/// From here on a cover has leaves that cover ground, in inches.
const STANDS_IN: f64 = 2.0;
/// Ground cover that a flat cover cannot have.
const HALF: f64 = 0.5;
/// Ground cover that is none.
const NONE: f64 = 0.01;
/// Heights in inches below which grasses do not head and legumes do not flower, and above which a
/// grass has more than tillers.
const HEADING_FROM_IN: f64 = 12.0;
const FLOWERING_FROM_IN: f64 = 6.0;
const TILLERS_UP_TO_IN: f64 = 24.0;
/// Days after its end in which a cover turns yellow at the latest, and before which it is not crisp.
const YELLOW_DAYS: i64 = 14;
const CRISP_DAYS: i64 = 5;
/// Residue cover that is next to nothing, and the corn yield that leaves more, in bu/ac.
const NO_RESIDUE: f64 = 0.05;
const MUCH_CORN: f64 = 150.0;
/// Slack for comparisons, so that a value at a limit counts as at the limit in any unit.
const SLACK: f64 = 1e-6;

fn of(c: &Conditions, clash: impl Fn(&CoverCrop) -> bool) -> bool {
    c.cover.as_ref().is_some_and(clash)
}

fn height_in(cover: &CoverCrop) -> Option<f64> {
    cover.height.map(|height| height.get::<inch>())
}

fn state(c: &Conditions) -> Option<CoverState> {
    c.cover.and_then(|cover| cover.state)
}

fn set_state(c: &mut Conditions, state: CoverState) {
    if let Some(cover) = &mut c.cover {
        cover.state = Some(state);
    }
}

/// The safer reading is used without a change of the report.
pub(super) const fn leave(_: &mut Conditions, _: &Coefficients) {}

pub(super) const fn outside_without_cover(c: &Conditions, _: &Coefficients) -> bool {
    c.read_outside_cover && c.cover.is_none()
}

pub(super) fn flat_yet_covered(c: &Conditions, _: &Coefficients) -> bool {
    of(c, |cover| {
        height_in(cover).is_some_and(|height| height < FLAT_IN - SLACK)
            && cover.ground_cover.is_some_and(|ground| ground.si() >= HALF - SLACK)
    })
}

pub(super) fn tall_yet_bare(c: &Conditions, _: &Coefficients) -> bool {
    of(c, |cover| {
        height_in(cover).is_some_and(|height| height >= STANDS_IN - SLACK)
            && cover.ground_cover.is_some_and(|ground| ground.si() < NONE - SLACK)
    })
}

pub(super) const fn forget_height(c: &mut Conditions, _: &Coefficients) {
    if let Some(cover) = &mut c.cover {
        cover.height = None;
    }
}

pub(super) const fn forget_ground_cover(c: &mut Conditions, _: &Coefficients) {
    if let Some(cover) = &mut c.cover {
        cover.ground_cover = None;
    }
}

pub(super) fn crisp_yet_wet(c: &Conditions, _: &Coefficients) -> bool {
    state(c) == Some(CoverState::DeadCrisp) && c.residue_feel == Some(ResidueFeel::Wet)
}

pub(super) fn take_as_damp(c: &mut Conditions, _: &Coefficients) {
    set_state(c, CoverState::DeadDamp);
}

pub(super) fn green_after_end(c: &Conditions, _: &Coefficients) -> bool {
    let ended_long_ago = c.days_from_end_to_planting().is_some_and(|days| days > YELLOW_DAYS);
    ended_long_ago && state(c).is_some_and(CoverState::is_green)
}

pub(super) fn crisp_too_soon(c: &Conditions, _: &Coefficients) -> bool {
    let just_ended = c.days_from_end_to_planting().is_some_and(|d| (0..CRISP_DAYS).contains(&d));
    just_ended && state(c) == Some(CoverState::DeadCrisp)
}

pub(super) fn take_as_dying(c: &mut Conditions, _: &Coefficients) {
    set_state(c, CoverState::Dying);
}

pub(super) fn dead_before_end(c: &Conditions, _: &Coefficients) -> bool {
    let dead = matches!(state(c), Some(CoverState::DeadDamp | CoverState::DeadCrisp));
    dead && c.days_from_end_to_planting().is_some_and(|days| days < 0)
}

pub(super) fn stage_ahead_of_height(c: &Conditions, _: &Coefficients) -> bool {
    of(c, |cover| {
        let (from, least) = if cover.species.is_grass() {
            (CoverStage::Heading, HEADING_FROM_IN)
        } else {
            (CoverStage::Flowering, FLOWERING_FROM_IN)
        };
        cover.stage.is_some_and(|stage| stage >= from)
            && height_in(cover).is_some_and(|height| height < least - SLACK)
    })
}

pub(super) fn stage_behind_height(c: &Conditions, _: &Coefficients) -> bool {
    of(c, |cover| {
        cover.species.is_grass()
            && cover.stage == Some(CoverStage::Tillering)
            && height_in(cover).is_some_and(|height| height > TILLERS_UP_TO_IN + SLACK)
    })
}

pub(super) const fn forget_stage(c: &mut Conditions, _: &Coefficients) {
    if let Some(cover) = &mut c.cover {
        cover.stage = None;
    }
}

/// Dry matter in lb/ac: of the clip, and the least and most that the height rule allows.
fn clip_and_rule(cover: &CoverCrop, k: &Coefficients) -> Option<(f64, f64, f64)> {
    let clip = cover.clip?.density()?;
    let by_height = cover.height.is_some() && cover.ground_cover.is_some();
    let rule = by_height.then(|| rule_span(cover, k).mass)?;
    Some((pounds_per_acre(clip), rule.low, rule.high))
}

pub(super) fn clip_against_height(c: &Conditions, k: &Coefficients) -> bool {
    let found = c.cover.as_ref().and_then(|cover| clip_and_rule(cover, k));
    found.is_some_and(|(clip, low, high)| clip < low - SLACK || clip > high + SLACK)
}

/// A clip that is too light is set aside; one that is heavier goes before the height anyway.
pub(super) fn go_by_the_heavier(c: &mut Conditions, k: &Coefficients) {
    if let Some(cover) = &mut c.cover
        && clip_and_rule(cover, k).is_some_and(|(clip, low, _)| clip < low)
    {
        cover.clip = None;
    }
}

pub(super) fn yield_without_residue(c: &Conditions, _: &Coefficients) -> bool {
    c.previous_crop == Some(PreviousCrop::Corn)
        && c.previous_yield_bu_ac.is_some_and(|bushels| bushels >= MUCH_CORN)
        && c.residue_cover.is_some_and(|cover| cover.si() < NO_RESIDUE - SLACK)
}
