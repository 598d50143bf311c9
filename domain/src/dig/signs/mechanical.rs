//! Soil and units: what must be right before a setting is touched.

use super::super::finding::Evidence;
use super::super::reading::{CleanerRunning, Closure, PrintDepth, Wall, WheelFeel};
use super::super::say;
use super::super::scene::Scene;
use crate::planter::DiscVerdict;
use crate::quantity::{Length, Measured};

const INCH: f64 = 0.0254;

pub(in super::super) fn soil_too_wet(scene: &Scene<'_>) -> Option<Evidence> {
    let shiny = scene.walls(Wall::Shiny);
    let wet = scene.soil_wet();
    // Where nobody reported the soil, wheels that are locked explain a shiny wall as well.
    let unexplained = wet.is_none() && shiny.agreed() && !scene.wheels(WheelFeel::Locked).agreed();
    if !(shiny.most() && wet == Some(true) || unexplained) {
        return None;
    }
    let free = scene.wheels(WheelFeel::SpinFree);
    Some(
        Evidence::default()
            .pro(format!("the wall shines {}", shiny.words()))
            .pro_if(wet == Some(true), "the field report says that the soil is wet")
            .pro_if(scene.prints(PrintDepth::Deep).most(), "the wheels leave a deep print")
            .con_if(wet.is_none(), "nobody reported how wet the soil is")
            .con_if(free.most(), "the gauge wheels spin free")
            .con_if(scene.soil_disputed(), "another sign of the field report says that it is fit"),
    )
}

/// Seen on most rows it speaks by itself: it digs where it should brush, whatever it carries yet.
pub(in super::super) fn cleaner_too_deep(scene: &Scene<'_>) -> Option<Evidence> {
    let below = scene.cleaners(CleanerRunning::BelowSurface);
    let carried = scene.wheels(WheelFeel::SpinFree).agreed();
    below.agreed().then(|| {
        Evidence::default()
            .pro(format!("the cleaner runs below the soil surface {}", below.words()))
            .pro_if(scene.shallow(), "seed lies shallow")
            .pro_if(carried, "the gauge wheels spin free")
            .con_if(scene.wheels_carry(), "the gauge wheels carry load")
            .con_if(scene.on_target(), "seed lies at depth")
    })
}

pub(in super::super) fn cleaner_wrapped(scene: &Scene<'_>) -> Option<Evidence> {
    let wrapped = scene.cleaners(CleanerRunning::Wrapped);
    let green = scene.cover_is_green();
    let clean = scene.on_target() && scene.closures(Closure::Closed).most();
    wrapped.any().then(|| {
        Evidence::default()
            .pro(format!("the cleaner is wrapped {}", wrapped.words()))
            .pro_if(green, "the cover is alive")
            .con_if(clean, "seed lies at depth and the furrow is closed")
            .on(wrapped.rows_if_few())
    })
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
            .con_if(scene.discs() == DiscVerdict::NotMeasured, "nobody measured the discs")
            .con_if(scene.prints(PrintDepth::None).most(), "the wheels leave no print")
            .con_if(free.any(), format!("the gauge wheels spin free {}", free.words())),
    )
}

pub(in super::super) fn loose_unit(scene: &Scene<'_>) -> Option<Evidence> {
    let slow = scene.case.coefficients.reference_speed.low;
    let speed = scene.dig.settings().speed.filter(|s| s.si() / 0.447_04 <= slow + 1e-9);
    let Some(speed) = speed.filter(|_| scene.scattered()) else { return loose_row(scene) };
    let free = scene.wheels(WheelFeel::SpinFree);
    Some(
        Evidence::default()
            .pro("depth scatters from seed to seed")
            .pro(format!("at {} speed is not to blame", say::mph(speed)))
            .con_if(free.most(), "the gauge wheels spin free: a light unit bounces as well")
            .con_if(scene.seeds_per_row() < 3.0, "fewer than three seeds a row were measured"),
    )
}

/// The other rows are as fast. A row that rides free follows the soil instead.
fn loose_row(scene: &Scene<'_>) -> Option<Evidence> {
    let free = scene.free_rows();
    let rows: Vec<u16> =
        scene.scattered_rows().into_iter().filter(|row| !free.contains(row)).collect();
    let felt = scene.dig.rows().iter().filter(|r| rows.contains(&r.row));
    let unfelt = felt.filter(|r| r.gauge_wheels.is_none()).count() > 0;
    (!rows.is_empty()).then(|| {
        Evidence::default()
            .pro(format!("depth scatters from seed to seed on {} only", say::rows(&rows)))
            .con_if(unfelt, "nobody felt the gauge wheels there")
            .on(rows)
    })
}

/// A row that carries load stops where its stop stands, so rows that carry load and differ have
/// stops that differ.
pub(in super::super) fn uneven_rows(scene: &Scene<'_>) -> Option<Evidence> {
    let depth = scene.depth()?;
    let carried = scene.wheels_carry();
    if depth.planter.rows < 3 || !carried || !scene.rows_differ() {
        return None;
    }
    let between = say::inches(depth.spread.between?);
    let free = scene.wheels(WheelFeel::SpinFree);
    Some(
        Evidence::default()
            .pro(format!("the rows differ by {between} (standard deviation)"))
            .pro("the gauge wheels carry load, so each row lies where its stop lets it")
            .con_if(free.any(), format!("the gauge wheels spin free {}", free.words()))
            .con_if(scene.scattered(), "depth scatters from seed to seed as well"),
    )
}
