//! A dig, judged: statistics, findings, one proposal.

use serde::{Deserialize, Serialize};

use super::change::Change;
use super::context::Context;
use super::decision::Decision;
use super::finding::Finding;
use super::findings::findings;
use super::ignored::{Ignored, ignored};
use super::missing::{Missing, missing};
use super::observation::Observation;
use super::plan::{AfterDig, Bar, DigPlan, next_dig};
use super::proposal::{Proposal, depth_step, propose};
use super::reading::WheelFeel;
use super::resistance::{Found, ImpliedResistance, row_at};
use super::say;
use super::scene::Scene;
use super::statistics::{Statistics, statistics};
use crate::learning::{DigEvent, Taught};
use crate::planter::{Planter, Setting};
use crate::provenance::{Assumed, Mark, Text, Trace, sources};
use crate::quantity::Force;

/// What a dig says and what to do about it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Judgement {
    /// The numbers.
    pub statistics: Statistics,
    /// Causes that the readings point to, the first to deal with first.
    pub findings: Vec<Finding>,
    /// The one change.
    pub proposal: Proposal,
    /// Resistance of the soil, where free gauge wheels measured it.
    pub resistance: Option<ImpliedResistance>,
    /// What nobody looked at, and what it would have told.
    pub missing: Vec<Missing>,
    /// What was not used, and why.
    pub ignored: Vec<Ignored>,
    /// The calculation, step by step.
    pub trace: Trace,
    /// What was assumed in place of a report.
    pub assumed: Vec<Assumed>,
    /// The next dig; none where this one settles it, and in what older engines stored.
    #[serde(default)]
    pub next_dig: Option<DigPlan>,
    /// What was learned; none in what older engines stored.
    #[serde(default)]
    pub learned: Option<Taught>,
    /// What this dig hands to the learning; none where nobody knows the force that was set. It is
    /// kept apart from the judgement.
    #[serde(skip)]
    pub lesson: Option<DigEvent>,
}

/// Judges a dig.
///
/// Never fails: a dig that says little leads to a proposal to dig more.
pub fn judge(dig: &Observation, case: &Context<'_>) -> Judgement {
    // The field by its safer readings, as the sheet was worked out.
    let (field, _) = case.conditions.settled(case.coefficients);
    let case = &Context { conditions: &field, ..*case };
    let statistics = statistics(dig, &case.wanted(), case.coefficients);
    let mut scene = Scene::new(dig, case, &statistics);
    let found = findings(&scene);
    let named: Vec<Finding> = found.iter().map(|(finding, _)| finding.clone()).collect();
    let decision = Decision::of(dig, case, &statistics, &named);
    scene.decision = Some(decision.clone());
    let (proposal, steps) = propose(&scene, &found);
    let resistance = measured_resistance(&scene);
    let moves = matches!(proposal.change, Change::DownForce { .. });
    let learned = if moves { decision.taught } else { decision.staying };
    let trace = Trace { steps: depth_step(&scene).into_iter().chain(steps).collect() };
    let ignored = ignored(&scene);
    let assumed = assumed(&scene);
    Judgement {
        findings: named,
        next_dig: next(dig, case, &statistics, &proposal),
        learned: Some(learned),
        lesson: decision.event.filter(|_| !force_unknown(dig, case.planter)),
        proposal,
        resistance,
        missing: missing(dig),
        ignored,
        trace,
        assumed,
        statistics,
    }
}

/// Whether nobody knows the force that was set: a pressure that no calibration reaches, or bags that
/// nobody calibrated. More or less than now can still be said of this planter; how hard the soil is
/// can't, and no other field should learn it.
fn force_unknown(dig: &Observation, planter: &Planter) -> bool {
    let set = dig.settings();
    let uncalibrated = planter.down_force.setting_for(Force::default()) == Setting::Uncalibrated;
    set.down_force.is_none() && (set.setting.is_some() || uncalibrated)
}

/// The dig after this one.
fn next(
    dig: &Observation,
    case: &Context<'_>,
    statistics: &Statistics,
    proposal: &Proposal,
) -> Option<DigPlan> {
    let changed = !matches!(proposal.change, Change::KeepAsIs | Change::DigMore { .. });
    let after = AfterDig {
        bar: Bar::of(case.planter),
        dig,
        statistics,
        earlier: &[],
        tolerance: case.tolerance,
        changed,
    };
    next_dig(&after, case.coefficients)
}

/// Only free wheels on two rows or more, and no logged load, measure the resistance.
fn measured_resistance(scene: &Scene<'_>) -> Option<ImpliedResistance> {
    let free = scene.wheels(WheelFeel::SpinFree);
    if !free.agreed() || scene.logged().is_some() || scene.deep() {
        return None;
    }
    Found::of(scene).map(|found| found.resistance())
}

fn assumed(scene: &Scene<'_>) -> Vec<Assumed> {
    let (dig, case) = (scene.dig, scene.case);
    let settings = dig.settings();
    let took = |what: &'static str, used: String, instead: &'static str| Assumed {
        what: Text::Borrowed(what),
        used: Text::Owned(used),
        range: None,
        instead: Text::Borrowed(instead),
        mark: Mark::Assumption,
        source: Text::Borrowed(sources::ASSUMPTION),
    };
    let mut list = Vec::new();
    if settings.down_force.is_none() {
        let used = say::pounds(case.force_in_use(dig));
        list.push(took("down force in use: as advised", used, "report pressure or notch"));
    }
    if settings.lever_depth.is_none() {
        let used = say::inches(case.lever_in_use(dig));
        list.push(took("depth of the lever: as advised", used, "report the notch"));
    }
    if settings.speed.is_none() {
        let used = say::mph(case.speed_in_use(dig));
        list.push(took("speed: as advised", used, "report the speed driven"));
    }
    let per_row = !matches!(case.planter.unit.hopper, crate::planter::Hopper::Central);
    if settings.box_fill.is_none() && per_row {
        let used = say::percent(dig.box_share());
        list.push(took("hoppers: half full", used, "report how full the hoppers are"));
    }
    if dig.rows().iter().any(|r| r.seed_on_bottom.is_none() && !r.seed_depths.is_empty()) {
        let used = "seed depth = furrow depth".to_owned();
        list.push(took(
            "seed lies on the bottom of the furrow",
            used,
            "look before the furrow is closed",
        ));
    }
    // Where nobody weighed or measured the unit, the balance used the usual figures.
    list.extend(row_at(scene, case.depth_target).into_assumed());
    list
}
