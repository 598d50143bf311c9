//! Force, speed and depth.

use super::super::finding::Evidence;
use super::super::reading::{PrintDepth, Wall, WheelFeel};
use super::super::say;
use super::super::scene::Scene;
use super::super::settled::Side;
use crate::conditions::Moisture;
use crate::quantity::{Length, Measured};

pub(in super::super) fn too_much_force(scene: &Scene<'_>) -> Option<Evidence> {
    let locked = scene.wheels(WheelFeel::Locked);
    let deep = scene.prints(PrintDepth::Deep);
    let shiny = scene.walls(Wall::Shiny);
    let stuck = locked.agreed();
    let pressed = deep.agreed() && shiny.agreed();
    let window = scene.case.window;
    let fires = match scene.logged() {
        Some((load, rows)) => rows >= 2 && load > window.ceiling,
        None => stuck || pressed,
    };
    if !fires {
        return None;
    }
    let crumbly = scene.walls(Wall::Crumbly);
    Some(
        log_words(scene, "more than this soil bears")
            .pro_if(stuck, format!("the gauge wheels cannot be turned {}", locked.words()))
            .pro_if(deep.most(), "the wheels leave a deep print")
            .pro_if(shiny.most(), "the wall of the furrow shines")
            .con_if(crumbly.most(), "the wall of the furrow crumbles")
            .con_if(scene.prints(PrintDepth::None).most(), "the wheels leave no print")
            .con_if(scene.shallow(), "seed lies shallow"),
    )
}

pub(in super::super) fn too_little_force(scene: &Scene<'_>) -> Option<Evidence> {
    let free = scene.wheels(WheelFeel::SpinFree);
    let felt = free.agreed();
    let window = scene.case.window;
    let fires = match scene.logged() {
        Some((load, rows)) => rows >= 2 && load < window.low,
        None => felt,
    };
    if !fires || scene.deep() {
        return None;
    }
    let none = scene.prints(PrintDepth::None);
    let deep = scene.prints(PrintDepth::Deep);
    Some(
        log_words(scene, "less than keeps the wheels down")
            .pro_if(felt, format!("the gauge wheels spin free {}", free.words()))
            .pro_if(scene.shallow(), "seed lies shallow")
            .pro_if(none.most(), "the wheels leave no print")
            .con_if(scene.on_target(), "seed lies at depth")
            .con_if(deep.most(), "the wheels leave a deep print"),
    )
}

fn log_words(scene: &Scene<'_>, what: &str) -> Evidence {
    match scene.logged() {
        Some((load, rows)) => Evidence::default().pro(format!(
            "the logged load is {} on the mean of {rows} rows, {what}",
            say::pounds(load)
        )),
        None => Evidence::default(),
    }
}

pub(in super::super) fn too_fast(scene: &Scene<'_>) -> Option<Evidence> {
    let slow = scene.case.coefficients.reference_speed.low;
    let speed = scene.case.speed_in_use(scene.dig);
    if !scene.scattered() || !scene.on_target() || speed.si() / 0.447_04 <= slow + 1e-9 {
        return None;
    }
    let free = scene.wheels(WheelFeel::SpinFree);
    Some(
        Evidence::default()
            .pro("depth scatters from seed to seed, with the mean within tolerance")
            .pro_if(scene.dig.settings().speed.is_some(), format!("driven at {}", say::mph(speed)))
            .con_if(free.most(), "the gauge wheels spin free")
            .con_if(scene.seeds_per_row() < 3.0, "fewer than three seeds a row were measured"),
    )
}

pub(in super::super) fn lever_off(scene: &Scene<'_>) -> Option<Evidence> {
    let off = scene.off()?;
    let by = say::inches(Length::from_si(off.si().abs()));
    let free = scene.wheels(WheelFeel::SpinFree);
    let carried = free.of > 0 && !free.most();
    let words = match scene.side()? {
        // Shallow with nobody at the wheels may as well be missing force.
        Side::Shallow if carried => format!("the mean lies {by} too shallow"),
        Side::Deep if !(free.most()) => format!("the mean lies {by} too deep"),
        Side::Shallow | Side::Deep | Side::Inside | Side::Open => return None,
    };
    Some(
        Evidence::default()
            .pro(words)
            .pro_if(carried, "the gauge wheels carry load, so the stop is reached")
            .con_if(free.of == 0, "nobody felt the gauge wheels")
            .con_if(!scene.rows_alike(), "the rows differ by more than half the tolerance"),
    )
}

pub(in super::super) fn dry_seed_zone(scene: &Scene<'_>) -> Option<Evidence> {
    let dry = scene.tally(|r| r.moist_at_seed.map(|moist| !moist));
    if !dry.agreed() || scene.shallow() {
        return None;
    }
    let moist = scene.case.conditions.moisture.is_some_and(|m| m >= Moisture::Moist);
    Some(
        Evidence::default()
            .pro(format!("the soil around the seed is dry {}", dry.words()))
            .pro_if(scene.on_target(), "seed lies at the depth that was wanted")
            .con_if(moist, "the field report says that the soil is moist")
            .con_if(scene.deep(), "seed lies deeper than wanted already"),
    )
}
