//! Exactly one change, with its reason, its cautions and what should be seen next.

use serde::{Deserialize, Serialize};

use super::change::{Action, Change, Flag};
use super::finding::{Cause, Finding};
use super::force_size;
use super::rules::Rule;
use super::scene::Scene;
use super::settled::Side;
use crate::planter::DownForce;
use crate::provenance::{Mark, Reason, Step, Text, sources};
use crate::quantity::Measured;
use crate::settings::Caution;

/// Rows to dig when nothing is known yet: enough for an interval.
const ROWS_TO_START_WITH: u16 = 3;

/// The one change that a dig proposes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Proposal {
    /// What to do.
    pub change: Change,
    /// The cause that it deals with; none when nothing is wrong or nothing is known.
    pub cause: Option<Cause>,
    /// Why.
    pub because: Vec<Reason>,
    /// What should be seen at the next dig if this was right.
    pub next_dig: Vec<Text>,
    /// Warnings about the numbers.
    pub flags: Vec<Flag>,
    /// Cautions for the work.
    pub cautions: Vec<Caution>,
}

/// Proposes what the first cause on the whole planter asks for; then the force that all digs together
/// ask for; then what is wrong on some rows; without any of them what the depth asks for.
pub(super) fn propose(
    scene: &Scene<'_>,
    findings: &[(Finding, &'static Rule)],
) -> (Proposal, Vec<Step>) {
    let (action, cause, because) = chosen(scene, findings);
    let proposal = Proposal {
        cautions: cautions(scene, &action.change),
        change: action.change,
        cause,
        because,
        next_dig: action.next,
        flags: action.flags,
    };
    (proposal, action.steps)
}

/// What comes before the force, then the force, then the rest.
fn chosen(
    scene: &Scene<'_>,
    findings: &[(Finding, &'static Rule)],
) -> (Action, Option<Cause>, Vec<Reason>) {
    let first = findings.first();
    // What is seen on the whole planter comes before a change that no sign asks for.
    let asks_first = first.filter(|(finding, _)| finding.rows.is_empty());
    if let Some((finding, rule)) = asks_first {
        let mut because = reasons(finding, rule);
        if is_force(finding.cause) {
            because.extend(learned(scene));
        }
        return ((rule.acts)(scene, &finding.rows), Some(finding.cause), because);
    }
    if let Some(action) = force_size::change_without_a_sign(scene) {
        let action = action.then_see("most gauge wheels turn about a quarter turn with effort");
        return (action, None, learned(scene).into_iter().collect());
    }
    if let Some((finding, rule)) = first {
        return ((rule.acts)(scene, &finding.rows), Some(finding.cause), reasons(finding, rule));
    }
    let (action, reason) = without_findings(scene);
    (action, None, vec![reason])
}

const fn is_force(cause: Cause) -> bool {
    matches!(cause, Cause::TooMuchForce | Cause::TooLittleForce)
}

fn learned(scene: &Scene<'_>) -> Option<Reason> {
    let decision = scene.decision.as_ref()?;
    Some(Reason {
        text: decision.taught.words.clone(),
        mark: Mark::Learned,
        source: Text::Borrowed("the digs of this practice"),
    })
}

fn reasons(finding: &Finding, rule: &Rule) -> Vec<Reason> {
    let seen = finding.evidence_for.iter().map(|words| Reason {
        text: words.clone(),
        mark: Mark::Measured,
        source: Text::Borrowed("this dig"),
    });
    let means = Reason::fixed(rule.reading, rule.mark, rule.source);
    seen.chain(std::iter::once(means)).collect()
}

fn without_findings(scene: &Scene<'_>) -> (Action, Reason) {
    let own = |text| Reason::fixed(text, Mark::Proposal, sources::OWN_CHOICE);
    let said = |text: Text| Reason {
        text,
        mark: Mark::Derived,
        source: Text::Borrowed("Student's t on row means"),
    };
    let Some(depth) = scene.depth() else {
        let action = dig_more(ROWS_TO_START_WITH, &["depth of five seeds on each row"]);
        return (action, own("no depth was measured"));
    };
    let words = depth.settled.words.clone();
    match depth.settled.side {
        Side::Inside => {
            let action = Action::of(Change::KeepAsIs)
                .then_see("the same: dig again when soil, moisture, residue or speed change");
            (action, said(words))
        }
        Side::Shallow | Side::Deep => {
            let look = [
                "gauge wheels: spin free, turn with effort, or locked",
                "print, wall and bottom of the furrow",
                "how the row cleaner runs",
            ];
            (dig_more(0, &look), own("the mean is off, but no sign says why"))
        }
        Side::Open => {
            let rows = depth.settled.more_rows.unwrap_or(0);
            let look = [
                "depth of five seeds on each row",
                "gauge wheels: spin free, turn with effort, or locked",
            ];
            (dig_more(rows, &look), said(words))
        }
    }
}

fn dig_more(rows: u16, look_for: &[&'static str]) -> Action {
    Action::of(Change::DigMore {
        rows,
        look_for: look_for.iter().map(|words| Text::Borrowed(*words)).collect(),
    })
    .then_see("an interval that lies inside or outside the tolerance")
}

/// Cautions for the work of a change, and for the next dig.
fn cautions(scene: &Scene<'_>, change: &Change) -> Vec<Caution> {
    let mut list = Vec::new();
    let under_the_planter = match change {
        Change::Inspect { .. }
        | Change::DownForce { .. }
        | Change::Depth { .. }
        | Change::CleanerHeight { .. }
        | Change::ClosingWheels { .. }
        | Change::ClosingSpring { .. }
        | Change::Coulter { .. } => true,
        Change::Speed { .. } | Change::Wait { .. } | Change::DigMore { .. } | Change::KeepAsIs => {
            false
        }
    };
    if under_the_planter {
        list.push(Caution::BlockAndRelieve);
        match scene.case.planter.down_force {
            DownForce::WeightOnly => {}
            DownForce::Spring { .. } => list.push(Caution::SpringsStoreEnergy),
            DownForce::AirBag { .. } => list.push(Caution::AirUnderPressure),
            DownForce::Hydraulic { .. } => list.push(Caution::OilUnderPressure),
        }
    }
    if matches!(change, Change::ClosingSpring { .. })
        && !list.contains(&Caution::SpringsStoreEnergy)
    {
        list.push(Caution::SpringsStoreEnergy);
    }
    list.extend([Caution::DiggingBehind, Caution::TreatedSeedLabel, Caution::ManualWins]);
    list
}

/// The step that shows the error of the depth.
pub(super) fn depth_step(scene: &Scene<'_>) -> Option<Step> {
    use crate::provenance::Input;
    let depth = scene.depth()?;
    let off = |mean: f64| (mean - depth.target.si()) * 1e3;
    Some(Step {
        step: Text::Borrowed("mean depth less the target, each row counted once"),
        formula: Text::Borrowed("mean(row means) - target, +/- t(0.975, rows - 1) s / sqrt(rows)"),
        inputs: vec![
            Input::new("mean", depth.planter.mean.si() * 1e3, "mm"),
            Input::new("target", depth.target.si() * 1e3, "mm"),
            Input::new("rows", f64::from(depth.planter.rows), "1"),
        ],
        value: off(depth.planter.mean.si()),
        unit: Text::Borrowed("mm"),
        low: depth.planter.low.map(|l| off(l.si())),
        high: depth.planter.high.map(|h| off(h.si())),
        source: Text::Borrowed("Student's t, IUPAC Gold Book C01247"),
        mark: Mark::Derived,
    })
}
