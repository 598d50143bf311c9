//! The change of the down force: the setting with the best chance by what this dig and all earlier
//! ones say, no further away than the largest step.

use super::change::{Action, Change, Flag};
use super::decision::Decision;
use super::reading::{RowReading, WheelFeel};
use super::scene::Scene;
use crate::planter::{DownForce, Setting};
use crate::provenance::{Input, Mark, Step, Text, sources};
use crate::quantity::{Force, Measured};

/// A change smaller than this is not worth a stop, N (2 lbf).
const WORTH_IT: f64 = 9.0;

/// Which way a finding asks the down force to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// More.
    Heavier,
    /// Less.
    Lighter,
}

/// Why the down force stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stays {
    /// The planter has nothing left to move that way.
    AtItsEnd,
    /// No setting that can be made has a better chance.
    NothingBetter,
    /// The finding asks one way and all digs together the other.
    Contradicted,
}

/// The change of down force that a finding asks for.
pub(super) fn change_by(scene: &Scene<'_>, way: Way) -> Result<Action, Stays> {
    let from = scene.case.force_in_use(scene.dig);
    if at_its_end(scene, from, way) {
        return Err(Stays::AtItsEnd);
    }
    let by = scene.decision.as_ref().map_or(0.0, |decision| decision.decided.force - from.si());
    let wanted = match way {
        Way::Heavier => by,
        Way::Lighter => -by,
    };
    if wanted < -WORTH_IT {
        return Err(Stays::Contradicted);
    }
    change(scene).ok_or(Stays::NothingBetter)
}

/// The change of down force that all digs together ask for; none where the setting stays.
pub(super) fn change(scene: &Scene<'_>) -> Option<Action> {
    let decision = scene.decision.as_ref()?;
    if matches!(scene.case.planter.down_force, DownForce::WeightOnly) {
        return None;
    }
    let from = scene.case.force_in_use(scene.dig);
    let to = Force::from_si(decision.decided.force);
    let by = to - from;
    if by.si().abs() < WORTH_IT {
        return None;
    }
    let setting = scene.case.planter.down_force.setting_for(to);
    Some(Action {
        flags: flags(scene, decision, to, &setting),
        change: Change::DownForce { from, to, by, setting },
        next: Vec::new(),
        steps: vec![factor_step(decision), change_step(scene, decision, from)],
    })
}

/// The change where no sign of its own asks for it: wheels that turn with effort may carry anything
/// between nothing and too much, and only all digs together say which. It must be well worth a stop,
/// and more than one row must have said something of its load.
pub(super) fn change_without_a_sign(scene: &Scene<'_>) -> Option<Action> {
    let decided = scene.decision.as_ref()?.decided;
    let gain = decided.chance - decided.chance_as_set.unwrap_or(0.0);
    let speaks = |row: &&&RowReading| says_its_load(row) && !row.contradicts_itself();
    let spoke = scene.usual().iter().filter(speaks).count();
    let worth = gain >= scene.case.coefficients.unasked_change_worth.value;
    if !(worth && spoke >= 2 && scene.case.window.room) {
        return None;
    }
    change(scene).filter(|action| !against_the_wheels(scene, &action.change))
}

/// Never lighter while most wheels spin free, never heavier while most are locked.
fn against_the_wheels(scene: &Scene<'_>, change: &Change) -> bool {
    let most = |feel: WheelFeel| {
        let tally = scene.wheels(feel);
        tally.any() && tally.most()
    };
    let Change::DownForce { by, .. } = change else { return false };
    if by.si() < 0.0 { most(WheelFeel::SpinFree) } else { most(WheelFeel::Locked) }
}

fn says_its_load(row: &RowReading) -> bool {
    row.gauge_wheels.is_some() || row.print.is_some() || row.logged_load.is_some()
}

fn flags(scene: &Scene<'_>, decision: &Decision, to: Force, setting: &Setting) -> Vec<Flag> {
    let near = |limit: Force| (to - limit).si().abs() < WORTH_IT;
    let (least, most) = scene.case.planter.down_force.reach().unzip();
    let all = [
        (decision.decided.held, Flag::HeldToLargestStep),
        (least.is_some_and(near) || most.is_some_and(near), Flag::HeldToReach),
        (scene.case.frame_most.is_some_and(near), Flag::HeldByFrame),
        (*setting == Setting::Uncalibrated, Flag::Uncalibrated),
    ];
    all.into_iter().filter(|(so, _)| *so).map(|(_, flag)| flag).collect()
}

/// Whether nothing is left to move one way.
fn at_its_end(scene: &Scene<'_>, from: Force, way: Way) -> bool {
    let source = &scene.case.planter.down_force;
    if matches!(source, DownForce::WeightOnly) {
        return true;
    }
    let (least, most) = source.reach().unzip();
    let frame = scene.case.frame_most;
    let left = |limit: Option<Force>| limit.map_or(f64::INFINITY, |limit| (limit - from).si());
    match way {
        Way::Heavier => left(most).min(left(frame)) < WORTH_IT,
        Way::Lighter => least.is_some_and(|least| (from - least).si() < WORTH_IT),
    }
}

fn factor_step(decision: &Decision) -> Step {
    let taught = &decision.taught;
    let count = |n: u32| Input::new("digs", f64::from(n), "1");
    Step {
        step: Text::Borrowed("resistance by all digs, over what was expected before this one"),
        formula: Text::Borrowed("middle of the factor with this dig / middle without it"),
        inputs: vec![count(taught.digs.practice)],
        value: taught.factor.likely,
        unit: Text::Borrowed("1"),
        low: Some(taught.factor.low),
        high: Some(taught.factor.high),
        source: Text::Borrowed(sources::OWN_CHOICE),
        mark: Mark::Learned,
    }
}

fn change_step(scene: &Scene<'_>, decision: &Decision, from: Force) -> Step {
    let most = &scene.case.coefficients.largest_learned_step;
    let decided = decision.decided;
    Step {
        step: Text::Borrowed("change of the down force"),
        formula: Text::Borrowed(
            "F_best - F, F_best the setting with the best chance within dF_learned",
        ),
        inputs: vec![
            Input::new("F", from.si(), "N"),
            Input::new("F_best", decided.force, "N"),
            Input::new("chance at F", decided.chance_as_set.unwrap_or(0.0), "1"),
            Input::new("chance at F_best", decided.chance, "1"),
            Input::new("dF_learned", most.value, "N"),
        ],
        value: decided.force - from.si(),
        unit: Text::Borrowed("N"),
        low: None,
        high: None,
        source: most.source.clone(),
        mark: most.mark,
    }
}
