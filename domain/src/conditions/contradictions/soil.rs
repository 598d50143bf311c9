//! When readings of the soil contradict each other.

use uom::si::length::inch;

use super::super::report::{BallTest, Conditions, Moisture, StrengthClass, TossTest};
use super::super::texture::TextureGroup;
use crate::provenance::Coefficients;
use crate::quantity::Measured;

/// Slack for comparisons, so that a value at a limit counts as at the limit in any unit.
const SLACK: f64 = 1e-6;
/// Longest ribbon that sand may seem to make, in inches.
const SAND_RIBBON_IN: f64 = 1.0;
/// Water by volume above which no soil feels dry.
const MUCH_WATER: f64 = 0.40;
/// Water by volume below which no soil but sand feels wet.
const LITTLE_WATER: f64 = 0.10;

fn is_coarse(c: &Conditions) -> bool {
    c.texture.is_some_and(|texture| texture.group() == TextureGroup::Coarse)
}

fn is_dry(c: &Conditions) -> bool {
    matches!(c.moisture, Some(Moisture::Dry | Moisture::SlightlyMoist))
}

fn is_fit(c: &Conditions) -> bool {
    matches!(c.ball, Some(BallTest::Crumbles | BallTest::Cracks))
}

fn ribbon_above(c: &Conditions, inches: f64) -> bool {
    c.ribbon.is_some_and(|ribbon| ribbon.get::<inch>() > inches + SLACK)
}

fn is_long(c: &Conditions, k: &Coefficients) -> bool {
    ribbon_above(c, k.ribbon_too_wet.value)
}

fn cone_class(c: &Conditions) -> Option<StrengthClass> {
    c.penetration.map(StrengthClass::of)
}

pub(super) fn sand_yet_ribbon(c: &Conditions, _: &Coefficients) -> bool {
    is_coarse(c) && ribbon_above(c, SAND_RIBBON_IN)
}

pub(super) const fn forget_texture(c: &mut Conditions, _: &Coefficients) {
    c.texture = None;
    c.soil.clay = None;
}

pub(super) fn water_against_feel(c: &Conditions, _: &Coefficients) -> bool {
    let Some(water) = c.soil.water.map(Measured::si) else { return false };
    let feels_wet = matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
    water > MUCH_WATER && is_dry(c) || water < LITTLE_WATER && feels_wet && !is_coarse(c)
}

pub(super) fn go_by_the_wetter(c: &mut Conditions, k: &Coefficients) {
    if is_dry(c) { take_as_wet(c, k) } else { c.soil.water = None }
}

pub(super) fn wet_yet_crumbles(c: &Conditions, _: &Coefficients) -> bool {
    match c.moisture {
        Some(Moisture::AtCapacity) => is_fit(c),
        Some(Moisture::Wet) => c.ball == Some(BallTest::Crumbles) && !is_coarse(c),
        _ => false,
    }
}

pub(super) fn dry_yet_putty(c: &Conditions, _: &Coefficients) -> bool {
    is_dry(c) && c.ball == Some(BallTest::Deforms)
}

pub(super) fn dry_yet_ribbon(c: &Conditions, k: &Coefficients) -> bool {
    is_dry(c) && is_long(c, k)
}

pub(super) fn ribbon_yet_crumbles(c: &Conditions, k: &Coefficients) -> bool {
    is_fit(c) && is_long(c, k)
}

pub(super) fn whole_yet_crumbles(c: &Conditions, _: &Coefficients) -> bool {
    is_fit(c) && c.toss == Some(TossTest::LandsWhole)
}

pub(super) const fn forget_ball(c: &mut Conditions, _: &Coefficients) {
    c.ball = None;
}

pub(super) const fn take_as_wet(c: &mut Conditions, _: &Coefficients) {
    c.moisture = Some(Moisture::Wet);
}

pub(super) fn putty_yet_hard(c: &Conditions, _: &Coefficients) -> bool {
    let soft = c.ball == Some(BallTest::Deforms) || c.moisture == Some(Moisture::AtCapacity);
    let hard = Some(StrengthClass::Hard);
    soft && (cone_class(c) == hard || c.strength_class == hard)
}

pub(super) fn forget_hardness(c: &mut Conditions, _: &Coefficients) {
    let hard = Some(StrengthClass::Hard);
    if cone_class(c) == hard {
        c.penetration = None;
    }
    if c.strength_class == hard {
        c.strength_class = None;
    }
}

const fn rank(class: StrengthClass) -> i8 {
    match class {
        StrengthClass::Loose => 0,
        StrengthClass::Good => 1,
        StrengthClass::Firm => 2,
        StrengthClass::Hard => 3,
    }
}

pub(super) fn strength_apart(c: &Conditions, _: &Coefficients) -> bool {
    let both = cone_class(c).zip(c.strength_class);
    both.is_some_and(|(cone, knife)| (rank(cone) - rank(knife)).abs() >= 2)
}

pub(super) fn go_by_the_softer(c: &mut Conditions, _: &Coefficients) {
    if cone_class(c) > c.strength_class {
        c.penetration = None;
    } else {
        c.strength_class = None;
    }
}

pub(super) fn low_above_now(c: &Conditions, _: &Coefficients) -> bool {
    c.soil_low.zip(c.soil_temperature).is_some_and(|(low, now)| low.si() > now.si() + SLACK)
}

pub(super) const fn go_by_the_colder(c: &mut Conditions, _: &Coefficients) {
    c.soil_low = c.soil_temperature;
}
