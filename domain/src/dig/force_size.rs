//! How much to change the down force: worked out from the balance, trusted as far as the digs
//! agree, and held to one notch or the largest step.

use super::change::{Action, Change, Flag};
use super::resistance::{Found, row_at};
use super::scene::Scene;
use crate::planter::{DownForce, Notch, Setting};
use crate::provenance::{Input, Mark, Step, Text, sources};
use crate::quantity::{Force, Measured};

/// A change smaller than this is not worth a stop, N (2 lbf).
const WORTH_IT: f64 = 9.0;

/// What the balance asks for: the whole correction in N, with the steps that led there.
pub(super) struct Correction {
    pub whole: f64,
    pub steps: Vec<Step>,
    pub implausible: bool,
}

/// The correction that a load below the window asks for.
pub(super) fn more(scene: &Scene<'_>) -> Correction {
    let aim = scene.case.window.aim;
    if let Some((load, _)) = scene.logged() {
        return Correction {
            whole: aim.si() - load.si(),
            steps: vec![load_step(load, aim)],
            implausible: false,
        };
    }
    // Without a furrow depth only this is known: the wheels carry nothing and should carry the aim.
    let Some(found) = Found::of(scene) else {
        return Correction {
            whole: aim.si(),
            steps: vec![load_step(Force::from_si(0.0), aim)],
            implausible: false,
        };
    };
    let missing = found.missing_force(scene, aim);
    Correction {
        whole: missing.value,
        steps: vec![found.step(), missing],
        implausible: !found.resistance().plausible,
    }
}

/// The correction that a load above the ceiling asks for; negative.
pub(super) fn less(scene: &Scene<'_>) -> Correction {
    let window = scene.case.window;
    let load = scene.logged().map_or_else(
        || {
            let depth = scene.depth().map_or(scene.case.depth_target, |d| d.planter.mean);
            Force::from_si(row_at(scene, depth).load_above(window.ceiling))
        },
        |(load, _)| load,
    );
    Correction {
        whole: (window.aim.si() - load.si()).min(0.0),
        steps: vec![load_step(load, window.aim)],
        implausible: false,
    }
}

fn load_step(load: Force, aim: Force) -> Step {
    Step {
        step: Text::Borrowed("whole correction of the down force"),
        formula: Text::Borrowed("G_aim - G"),
        inputs: vec![Input::new("G_aim", aim.si(), "N"), Input::new("G", load.si(), "N")],
        value: aim.si() - load.si(),
        unit: Text::Borrowed("N"),
        low: None,
        high: None,
        source: Text::Borrowed(sources::STATICS),
        mark: Mark::Derived,
    }
}

/// Why the down force stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stays {
    /// The planter has nothing left to move that way.
    AtItsEnd,
    /// What is to be moved is less than can be set.
    TooLittleToSet,
}

/// The change of down force for a correction.
pub(super) fn change(scene: &Scene<'_>, correction: Correction) -> Result<Action, Stays> {
    if correction.whole.abs() < WORTH_IT {
        return Err(Stays::TooLittleToSet);
    }
    let from = scene.case.force_in_use(scene.dig);
    let mut flags = Vec::new();
    let mut steps = correction.steps;
    let source = &scene.case.planter.down_force;
    let to = match source {
        DownForce::WeightOnly => return Err(Stays::AtItsEnd),
        DownForce::Spring { notches } => next_notch(notches, from, correction.whole, &mut flags)?,
        DownForce::AirBag { .. } | DownForce::Hydraulic { .. } => {
            let (trusted, step) = trusted(scene, correction.whole);
            steps.push(step);
            stepped(scene, from, trusted, &mut flags)
        }
    };
    if (to - from).si().abs() < WORTH_IT {
        return Err(Stays::TooLittleToSet);
    }
    let to = held(scene, from, to, &mut flags);
    let by = to - from;
    if by.si().abs() < WORTH_IT || by.si() * correction.whole <= 0.0 {
        return Err(Stays::AtItsEnd);
    }
    let setting = source.setting_for(to);
    if setting == Setting::Uncalibrated {
        flags.push(Flag::Uncalibrated);
    }
    steps.push(change_step(scene, from, to));
    Ok(Action {
        change: Change::DownForce { from, to, by, setting },
        next: Vec::new(),
        flags,
        steps,
    })
}

fn change_step(scene: &Scene<'_>, from: Force, to: Force) -> Step {
    let most = &scene.case.coefficients.largest_step;
    Step {
        step: Text::Borrowed("change of the down force"),
        formula: Text::Borrowed("to - F, held to one notch or dF_max, and to what can be set"),
        inputs: vec![
            Input::new("F", from.si(), "N"),
            Input::new("to", to.si(), "N"),
            Input::new("dF_max", most.value, "N"),
        ],
        value: (to - from).si(),
        unit: Text::Borrowed("N"),
        low: None,
        high: None,
        source: most.source.clone(),
        mark: most.mark,
    }
}

/// n / (n + k) of the correction, where this dig is one of n.
fn trusted(scene: &Scene<'_>, whole: f64) -> (f64, Step) {
    let k = &scene.case.coefficients.digs_to_trust;
    let n = f64::from(scene.case.digs_before) + 1.0;
    let value = whole * n / (n + k.value);
    let step = Step {
        step: Text::Borrowed("correction as far as the digs are trusted"),
        formula: Text::Borrowed("dF n / (n + k)"),
        inputs: vec![
            Input::new("dF", whole, "N"),
            Input::new("n", n, "1"),
            Input::new("k", k.value, "1"),
        ],
        value,
        unit: Text::Borrowed("N"),
        low: None,
        high: None,
        source: k.source.clone(),
        mark: k.mark,
    };
    (value, step)
}

/// Moves by the trusted correction, no further than the largest step, to what can be set.
fn stepped(scene: &Scene<'_>, from: Force, trusted: f64, flags: &mut Vec<Flag>) -> Force {
    let most = scene.case.coefficients.largest_step.value;
    let by = trusted.clamp(-most, most);
    if (by - trusted).abs() > 1e-6 {
        flags.push(Flag::HeldToLargestStep);
    }
    let exact = from + Force::from_si(by);
    let settable = scene.case.planter.down_force.nearest_settable(exact);
    // A gauge reads in steps of its own: take its nearest mark unless that goes beyond the step.
    let beyond = (settable - from).si().abs() > most + 1e-6;
    let off_scale = (settable - exact).si().abs() > WORTH_IT * 3.0;
    if beyond || off_scale { exact } else { settable }
}

/// The neighbouring notch, when the correction is worth at least half of the way to it.
fn next_notch(
    notches: &[Notch],
    from: Force,
    whole: f64,
    flags: &mut Vec<Flag>,
) -> Result<Force, Stays> {
    let ahead = notches
        .iter()
        .map(|n| n.force.si() - from.si())
        .filter(|gap| gap.signum() * whole.signum() > 0.0 && gap.abs() > WORTH_IT);
    let gap = ahead.min_by(|a, b| a.abs().total_cmp(&b.abs())).ok_or(Stays::AtItsEnd)?;
    if whole.abs() < gap.abs() / 2.0 {
        return Err(Stays::TooLittleToSet);
    }
    if whole.abs() > gap.abs() * 1.5 {
        flags.push(Flag::HeldToOneNotch);
    }
    Ok(from + Force::from_si(gap))
}

/// Never beyond what the source gives or the frame holds.
fn held(scene: &Scene<'_>, from: Force, to: Force, flags: &mut Vec<Flag>) -> Force {
    let mut held = to;
    if let Some((least, most)) = scene.case.planter.down_force.reach() {
        let inside = to.max(least.min(from)).min(most.max(from));
        if (inside - to).si().abs() > 1e-6 {
            flags.push(Flag::HeldToReach);
        }
        held = inside;
    }
    if let Some(frame) = scene.case.frame_most {
        // Down is always allowed, up only as far as the frame keeps its reserve.
        if held > frame && held > from {
            flags.push(Flag::HeldByFrame);
            held = frame.max(from);
        }
    }
    held
}
