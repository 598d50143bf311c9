//! What each cause of the table asks to change, and how much.

use super::change::{Action, Change, Flag, SpringMove};
use super::force_size::{self, Stays, Way};
use super::resistance::Found;
use super::say;
use super::scene::Scene;
use crate::conditions::{Moisture, is_tough};
use crate::planter::{ClosingPair, DiscVerdict};
use crate::quantity::{Length, Measured, Speed};
use crate::settings::{CleanerUse, CoulterUse};

const INCH: f64 = 0.0254;
const MPH: f64 = 0.447_04;
/// A lever that moves less than this does not move, m.
const LEAST_MOVE: f64 = 0.5e-3;

type Rows<'r> = &'r [u16];

pub(super) fn wait_for_soil(_: &Scene<'_>, _: Rows<'_>) -> Action {
    Action::wait("a ball of soil from seed depth crumbles, and the wall of the furrow breaks instead of shining")
        .then_see("the wall crumbles at the same setting")
}

pub(super) fn raise_cleaner(_: &Scene<'_>, _: Rows<'_>) -> Action {
    Action::of(Change::CleanerHeight { to: CleanerUse::Skim })
        .then_see("about a third of the cleaners turn at any time")
        .then_see("the gauge wheels turn with effort and seed lies deeper")
}

pub(super) fn free_cleaner(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    let green = scene.cover_is_green();
    if green && rows.is_empty() {
        return Action::of(Change::CleanerHeight { to: CleanerUse::Lift })
            .then_see("nothing wraps, and the mat is cut by opener or coulter");
    }
    Action::inspect("clear the wrapped cleaners, see that they turn and float freely", rows)
        .then_see("the cleaners turn freely and stay clean")
}

pub(super) fn weigh_the_wings(_: &Scene<'_>, _: Rows<'_>) -> Action {
    Action::inspect(
        "weight on the wings: planter down, see whether the bar rises at the ends as down force is raised; add weight there",
        &[],
    )
    .then_see("the outer rows lie as deep as the others")
}

pub(super) fn level_the_arms(_: &Scene<'_>, _: Rows<'_>) -> Action {
    Action::inspect(
        "height of the bar: planter down, no down force, arms level; set the hitch so that they are",
        &[],
    )
    .then_see("the arms run level and the gauge wheels turn with effort")
}

pub(super) fn measure_discs(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    let action = match scene.discs() {
        DiscVerdict::Replace => {
            Action::inspect("the opener discs: they are at their limit, replace them", rows)
        }
        DiscVerdict::Keep => return deepen_by_error(scene, rows),
        DiscVerdict::NotMeasured => Action::inspect(
            "diameter of the opener discs, then the lever against a measured furrow, then the height of the bar",
            rows,
        ),
    };
    action.then_see("seed lies at the depth that the lever says")
}

pub(super) fn clear_hairpins(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    let field = scene.case.conditions;
    let green = scene.cover_is_green();
    let fitted = scene.case.planter.unit.coulter.is_some();
    let sharp = scene.discs() == DiscVerdict::Keep;
    let action = if rows.is_empty() && is_tough(field) {
        Action::wait("the residue snaps when it is bent")
    } else if rows.is_empty() && sharp && fitted && green {
        Action::of(Change::Coulter { to: CoulterUse::TakeOff })
    } else {
        Action::inspect("the opener discs: sharp, and touching as the manual says", rows)
    };
    action.then_see("the furrow is free of residue and the seed touches soil all round")
}

pub(super) fn bring_discs_together(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect(
        "touch of the opener discs: slide a card in from each side; shim or replace them as the manual says",
        rows,
    )
    .then_see("the furrow has one clean V")
}

pub(super) fn see_to_the_tube(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect("firmer and seed tube: worn, bent, dirty or missing", rows)
        .then_see("the seed lies on the bottom of the furrow")
}

pub(super) fn tighten_unit(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect("play of the parallel arms, bushings and gauge-wheel arms", rows)
        .then_see("seeds of one row lie at one depth")
}

pub(super) fn set_rows_alike(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect(
        "each row for itself: the same notch of the lever, an unworn depth stop, springs or bags alike and their hoses tight",
        rows,
    )
    .then_see("all rows lie at the same depth")
}

pub(super) fn lighter(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    match force_size::change_by(scene, Way::Lighter) {
        Ok(action) => action
            .then_see("most gauge wheels turn about a quarter turn with effort")
            .then_see("the print is light and the wall crumbles, at the same depth"),
        Err(Stays::NothingBetter | Stays::Contradicted) => dig_again(),
        Err(Stays::AtItsEnd) => Action::inspect(
            "weight on the unit: the down force cannot be set lighter; take weight off, or go on when the soil is drier",
            rows,
        )
        .then_see("the print is light and the wall crumbles"),
    }
}

pub(super) fn heavier(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    if !scene.case.window.room {
        return slower(scene, rows);
    }
    let found = Found::of(scene).filter(|_| scene.logged().is_none());
    if let Some(found) = found.filter(|found| !found.resistance().plausible) {
        let mut action = Action::inspect(
            "no soil asks for that much: see what else carries the unit (bar height, cleaner, coulter depth, a lifting frame, leaking bags or hoses)",
            rows,
        );
        action.steps = vec![found.step()];
        action.flags.push(Flag::ImplausibleResistance);
        return action.then_see("the gauge wheels carry load at the same down force");
    }
    match force_size::change_by(scene, Way::Heavier) {
        Ok(action) => action
            .then_see("most gauge wheels turn about a quarter turn with effort")
            .then_see("seed lies at depth and the wall still crumbles"),
        Err(Stays::NothingBetter | Stays::Contradicted) => dig_again(),
        Err(Stays::AtItsEnd) => slower(scene, rows),
    }
}

/// No setting promises more: a second dig, on other rows, says whether the signs are there at all.
fn dig_again() -> Action {
    Action::of(Change::DigMore {
        rows: 0,
        look_for: vec![
            "gauge wheels: spin free, turn with effort, or locked".into(),
            "print and wall of the furrow".into(),
        ],
    })
    .then_see("the same signs: then the next step is worth trying on two rows")
}

/// Slowing down is what is left when force cannot be had, or must not be used.
pub(super) fn slower(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    let k = scene.case.coefficients;
    let from = scene.case.speed_in_use(scene.dig);
    let floor = k.reference_speed.low * MPH - MPH;
    let to = (from.si() - k.speed_step.value * MPH).max(floor);
    if from.si() - to < 0.1 * MPH {
        return Action::inspect(
            "weight on the units and on the frame: the planter has nothing left to give, and it is slow already",
            rows,
        )
        .then_see("the gauge wheels carry load");
    }
    Action::of(Change::Speed { from, to: Speed::from_si(to) })
        .then_see("the same signs at the lower speed are weaker or gone")
}

pub(super) fn deepen_by_error(scene: &Scene<'_>, _: Rows<'_>) -> Action {
    let error = scene.off().map_or(0.0, |off| -off.si());
    move_lever(scene, error)
}

pub(super) fn follow_moisture(scene: &Scene<'_>, _: Rows<'_>) -> Action {
    let step = scene.case.planter.depth_lever.map_or(0.25 * INCH, |lever| lever.step.si());
    let lies = scene.depth().map_or(scene.case.depth_target, |d| d.planter.mean);
    if lies.si() + step > scene.case.deepest.si() + 1e-6 {
        return Action::wait("rain: moist soil lies deeper than seed may go")
            .then_see("moist soil around the seed");
    }
    move_lever(scene, step)
}

/// Moves the lever by an error, no further than the largest step, to a notch where the steps are
/// known.
fn move_lever(scene: &Scene<'_>, by: f64) -> Action {
    let most = scene.case.coefficients.largest_depth_step.value * INCH;
    let from = scene.case.lever_in_use(scene.dig);
    let held = by.clamp(-most, most);
    let wanted = Length::from_si((from.si() + held).max(0.0));
    let lever = scene
        .case
        .planter
        .depth_lever
        .and_then(|lever| lever.nearest(wanted, Length::from_si(0.0)));
    let to = lever.map_or(wanted, |notch| notch.depth);
    let moved = (to - from).si();
    // The nearest notch may lie too far off, or on the wrong side of a lever at its end.
    if moved * by <= 0.0 || moved.abs() < LEAST_MOVE || moved.abs() > most + 1e-6 {
        return Action::inspect(
            "the depth stop: the lever has no better notch; is the stop whole, and do all rows stand in the same notch",
            &[],
        )
        .then_see("all rows lie at the same depth, the one that the lever says");
    }
    let mut action = Action::of(Change::Depth { from, to, lever });
    if (held - by).abs() > 1e-9 {
        action.flags.push(Flag::HeldToLargestStep);
    }
    let expected = scene.depth().map_or(to, |d| d.planter.mean + (to - from));
    action.then_see(format!("the mean lies near {}", say::inches(expected)))
}

pub(super) fn look_behind_tyres(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect(
        "the rows behind tyres: where they have a setting of their own, one step more there; leave the other rows",
        rows,
    )
    .then_see("the rows behind tyres lie as deep as the others")
}

pub(super) fn look_at_row(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect(
        "this row alone: discs, depth stop, gauge-wheel arm, cleaner, spring or hose; leave the planter as it is",
        rows,
    )
    .then_see("the row lies as deep as the others")
}

pub(super) fn other_wheels(scene: &Scene<'_>, rows: Rows<'_>) -> Action {
    if scene.soil_wet() == Some(true) {
        return wait_for_soil(scene, rows);
    }
    let planter = scene.case.planter;
    match milder_to_keener(
        scene.case.conditions.moisture,
        planter.unit.closing,
        &planter.closing_owned,
    ) {
        Some((to, owned)) => Action::of(Change::ClosingWheels { to, owned }).then_see(
            "on the two rows with the other wheels the furrow is closed from the bottom up",
        ),
        None => centre_wheels(scene, rows),
    }
}

/// The next keener pair: the mildest that is owned, else the next one at all.
fn milder_to_keener(
    moisture: Option<Moisture>,
    fitted: ClosingPair,
    owned: &[ClosingPair],
) -> Option<(ClosingPair, bool)> {
    use ClosingPair::{CastIron, Finger, Rubber, SpikedAndRubber, TwoSpiked};
    let damp = moisture.is_some_and(|m| m >= Moisture::Moist);
    let keener: &[ClosingPair] = match fitted {
        Rubber | CastIron if damp => &[SpikedAndRubber, Finger, TwoSpiked],
        Rubber | CastIron => &[SpikedAndRubber, TwoSpiked],
        SpikedAndRubber | Finger => &[TwoSpiked],
        TwoSpiked => &[],
    };
    let in_shed = keener.iter().find(|pair| owned.contains(pair));
    in_shed.map(|pair| (*pair, true)).or_else(|| keener.first().map(|pair| (*pair, false)))
}

pub(super) fn centre_wheels(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect(
        "closing wheels: do they straddle the furrow, is the gap between them right, are the arms worn",
        rows,
    )
    .then_see("the furrow is closed on every row")
}

pub(super) fn ease_closing(_: &Scene<'_>, _: Rows<'_>) -> Action {
    Action::of(Change::ClosingSpring { to: SpringMove::Lighter })
        .then_see("the soil over the seed opens easily with a small tool")
}

pub(super) fn see_to_meters(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect(
        "the meters: seed size, vacuum or brush, belts, wear; run them on a stand",
        rows,
    )
    .then_see("the spacings scatter by less than 3 in (76 mm)")
}

pub(super) fn see_to_drive(_: &Scene<'_>, rows: Rows<'_>) -> Action {
    Action::inspect("the drive: rate setting, sprockets or motors, tyre pressure and slip", rows)
        .then_see("the mean spacing fits the rate")
}
