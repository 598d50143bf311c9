//! Soil and iron: what must be right before a setting is touched.

use super::super::finding::Evidence;
use super::super::reading::{Bottom, CleanerRunning, PrintDepth, Wall, WheelFeel};
use super::super::say;
use super::super::scene::Scene;
use super::super::set_aside::Apart;
use crate::planter::DiscVerdict;
use crate::quantity::{Length, Measured};

const INCH: f64 = 0.0254;
/// Slope of arms under a bar that runs an inch too high, 380 mm arms: tan(3.8 degrees).
const AN_INCH_TOO_HIGH: f64 = 0.066_4;

pub(in super::super) fn soil_too_wet(scene: &Scene<'_>) -> Option<Evidence> {
    let shiny = scene.walls(Wall::Shiny);
    if !(shiny.most() && scene.soil_wet() == Some(true)) {
        return None;
    }
    let free = scene.wheels(WheelFeel::SpinFree);
    Some(
        Evidence::default()
            .pro(format!("the wall shines {}", shiny.words()))
            .pro("the field report says that the soil is wet")
            .pro_if(scene.prints(PrintDepth::Deep).most(), "the wheels leave a deep print")
            .con_if(free.most(), "the gauge wheels spin free"),
    )
}

pub(in super::super) fn cleaner_too_deep(scene: &Scene<'_>) -> Option<Evidence> {
    let below = scene.cleaners(CleanerRunning::BelowSurface);
    let carried = scene.wheels(WheelFeel::SpinFree).agreed();
    if !(below.agreed() && (scene.shallow() || carried)) {
        return None;
    }
    Some(
        Evidence::default()
            .pro(format!("the cleaner runs below the soil surface {}", below.words()))
            .pro_if(scene.shallow(), "seed lies shallow")
            .pro_if(carried, "the gauge wheels spin free"),
    )
}

pub(in super::super) fn cleaner_wrapped(scene: &Scene<'_>) -> Option<Evidence> {
    let wrapped = scene.cleaners(CleanerRunning::Wrapped);
    let green = scene.cover_is_green();
    wrapped.any().then(|| {
        Evidence::default()
            .pro(format!("the cleaner is wrapped {}", wrapped.words()))
            .pro_if(green, "the cover is alive")
            .on(wrapped.rows_if_few())
    })
}

pub(in super::super) fn frame_lifts(scene: &Scene<'_>) -> Option<Evidence> {
    let outer = scene.aside(Apart::Outer);
    let free = scene.free_only(|r| r.outer);
    if outer.is_empty() && free.is_empty() {
        return None;
    }
    let shallower = outer.first().map(|o| {
        let by = say::inches(Length::from_si(o.difference.si().abs()));
        format!("the outer rows lie {by} shallower than the others")
    });
    let mut evidence = Evidence::default();
    if let Some(words) = shallower {
        evidence = evidence.pro(words);
    }
    let others = scene.wheels(WheelFeel::SpinFree);
    Some(
        evidence
            .pro_if(!free.is_empty(), "only on the outer rows do the gauge wheels spin free")
            .con_if(others.most(), "the wheels spin free on the other rows too"),
    )
}

pub(in super::super) fn bar_too_high(scene: &Scene<'_>) -> Option<Evidence> {
    let arms = scene.case.planter.unit.arms;
    let slope = match (arms.angle, arms.bar_too_high) {
        (Some(angle), _) => angle.si().tan(),
        (None, Some(high)) => high.si() / arms.length.map_or(0.380, Measured::si),
        (None, None) => return None,
    };
    let light = scene.wheels(WheelFeel::SpinFree).agreed();
    if slope < AN_INCH_TOO_HIGH || !(scene.shallow() || light) {
        return None;
    }
    Some(
        Evidence::default()
            .pro("the arms slope down to the rear, so the pull lifts the units")
            .pro_if(light, "the gauge wheels spin free")
            .pro_if(scene.shallow(), "seed lies shallow"),
    )
}

pub(in super::super) fn worn_or_misread(scene: &Scene<'_>) -> Option<Evidence> {
    let off = scene.off()?;
    let small = scene.case.coefficients.disc_wear_limit.high / 2.0 * INCH;
    let free = scene.wheels(WheelFeel::SpinFree);
    let light = free.most();
    let lost = scene.case.planter.unit.opener.depth_lost();
    let unallowed =
        lost.si() - (scene.case.lever_in_use(scene.dig).si() - scene.case.depth_target.si());
    let explains = unallowed >= off.si().abs() / 2.0;
    let suspect = match scene.discs() {
        DiscVerdict::NotMeasured | DiscVerdict::Replace => true,
        DiscVerdict::Keep => explains,
    };
    let shallow_alike = scene.shallow() && scene.rows_alike() && -off.si() <= small + 1e-9;
    if !shallow_alike || light || !suspect {
        return None;
    }
    let firm = scene.wheels(WheelFeel::TurnWithEffort);
    Some(
        Evidence::default()
            .pro(format!(
                "every row lies shallow by about the same {}",
                say::inches(Length::from_si(-off.si()))
            ))
            .pro_if(firm.most(), "the gauge wheels carry load, so the stop is reached")
            .pro_if(scene.discs() == DiscVerdict::Replace, "the discs are worn to their limit")
            .pro_if(explains, "the measured wear explains at least half of it")
            .con_if(scene.discs() == DiscVerdict::NotMeasured, "nobody measured the discs"),
    )
}

pub(in super::super) fn hairpin(scene: &Scene<'_>) -> Option<Evidence> {
    use crate::conditions::ResidueFeel;
    let tucked = scene.tally(|r| r.residue_in_furrow);
    let feel = scene.case.conditions.residue_feel;
    let damp = matches!(feel, Some(ResidueFeel::Pliable | ResidueFeel::Wet));
    tucked.any().then(|| {
        Evidence::default()
            .pro(format!("residue is tucked into the furrow {}", tucked.words()))
            .pro_if(damp, "the residue does not snap")
            .pro_if(scene.discs() == DiscVerdict::Replace, "the discs are worn to their limit")
            .pro_if(scene.shallow(), "seed lies shallow")
            .on(tucked.rows_if_few())
    })
}

pub(in super::super) fn discs_apart(scene: &Scene<'_>) -> Option<Evidence> {
    let ridged = scene.tally(|r| r.bottom.map(|b| b == Bottom::W));
    ridged.any().then(|| {
        Evidence::default()
            .pro(format!("the furrow has a W bottom {}", ridged.words()))
            .pro_if(scene.discs() == DiscVerdict::Replace, "the discs are worn to their limit")
            .on(ridged.rows_if_few())
    })
}

pub(in super::super) fn seed_off_bottom(scene: &Scene<'_>) -> Option<Evidence> {
    let above = scene.tally(|r| r.seed_on_bottom.map(|on| !on));
    above.any().then(|| {
        Evidence::default()
            .pro(format!("seed lies above the bottom of the furrow {}", above.words()))
            .pro_if(scene.scattered(), "depth scatters from seed to seed")
            .on(above.rows_if_few())
    })
}

pub(in super::super) fn loose_unit(scene: &Scene<'_>) -> Option<Evidence> {
    let slow = scene.case.coefficients.reference_speed.low;
    let speed = scene.dig.settings().speed?;
    if !scene.scattered() || speed.si() / 0.447_04 > slow + 1e-9 {
        return None;
    }
    Some(
        Evidence::default()
            .pro("depth scatters from seed to seed")
            .pro(format!("at {} speed is not to blame", say::mph(speed))),
    )
}
