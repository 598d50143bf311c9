//! Plays one field: plant, dig, change, up to three times.

use std::collections::BTreeSet;

use domain::dig::{Change, Context, Finding, Judgement, Observation, WheelFeel, judge};
use domain::learning::{
    Learned, Need, Posterior, Steps, blocks_force, decide, event_of_dig, need_of_row,
};
use domain::planter::DownForce;
use domain::quantity::{Force, Measured};
use domain::settings::{Inputs, Recommendation, recommend};

use crate::case::{Case, mend, names, work};
use crate::dice::Dice;
use crate::digger::{Protocol, dig};
use crate::field::K;
use crate::iron::{Fault, Machine};
use crate::truth::{AtWork, FIFTY};

/// Digs on a field, each followed by one change.
pub(crate) const ROUNDS: usize = 3;

/// Who sets the down force.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Policy {
    /// The posterior of this module, causes before force.
    Learning,
    /// The proposal of the dig check without learning.
    Proposal,
    /// Free: 50 lbf more. Locked: 50 lbf less.
    FixedStep,
}

/// What happened on one field.
#[derive(Debug, Clone, Default)]
pub(crate) struct Story {
    /// In the window after 0, 1, 2, 3 adjustments.
    pub inside: [bool; ROUNDS + 1],
    /// The true effective factor lay within the 90 % interval, and how wide that was (ln), before
    /// any dig and after each.
    pub covered: Vec<(bool, f64)>,
    pub fault: Option<Fault>,
    /// The round in which the true fault came first among all findings.
    pub named_first: Option<usize>,
    /// The round in which it came first among those of the whole planter.
    pub named: Option<usize>,
    pub raised_on_fault: bool,
    pub moved_out: bool,
    pub wrong_way: bool,
    pub false_alarms: u32,
    pub changes: u32,
}

struct Player<'a> {
    case: &'a Case,
    machine: Machine,
    inputs: Inputs,
    sheet: Recommendation,
    checked: BTreeSet<String>,
    force: f64,
    story: Story,
}

/// Plays a field; `learned` is what earlier fields taught, and learns from this one.
pub(crate) fn play(
    case: &Case,
    policy: Policy,
    protocol: Protocol,
    learned: &mut Learned,
) -> Story {
    let mut player = Player {
        case,
        machine: case.machine.clone(),
        inputs: case.inputs.clone(),
        sheet: case.sheet.clone(),
        checked: BTreeSet::new(),
        force: case.sheet.down_force.per_row.si(),
        story: Story { fault: case.machine.iron.fault, ..Story::default() },
    };
    if policy != Policy::Proposal {
        player.force = player.best(&learned.posterior(&case.place), None);
    }
    player.look(0, learned);
    for round in 0..ROUNDS {
        let fill = Dice::of(case.id, 20 + u64::try_from(round).unwrap_or(0)).between(0.2, 0.9);
        let at =
            work(&player.machine, &case.ground, &player.inputs, player.force, fill, day(round));
        let round_id = u64::try_from(round).unwrap_or(0);
        let dug: Vec<Observation> = (0..protocol.places)
            .map(|place| dig(case.id, (round_id, place), &at, &player.inputs, protocol))
            .collect();
        let before = player.force;
        player.act(policy, round, &dug, learned);
        player.watch(before, round);
        player.look(round + 1, learned);
    }
    player.story
}

/// What a finding is called, once it was looked at.
fn name(finding: &Finding) -> String {
    format!("{:?}", finding.cause)
}

/// The share of the day that has passed after so many adjustments: the first digs follow quickly.
fn day(adjustments: usize) -> f64 {
    [0.0, 0.125, 0.25, 0.5][adjustments]
}

impl Player<'_> {
    /// Writes down how the field stands after `adjustments`.
    fn look(&mut self, adjustments: usize, learned: &Learned) {
        let at = self.at_work(self.force, day(adjustments));
        let (inside, load) = (at.in_window(), at.load());
        self.story.inside[adjustments] = inside;
        let need = self.need();
        let pushes = need.levels.iter().map(|(w, p)| w * p).sum::<f64>() + self.force;
        let truth = (pushes - load) / need.metal;
        let range = learned.posterior(&self.case.place).range();
        let hit = range.low <= truth && truth <= range.high;
        self.story.covered.push((hit, (range.high / range.low).ln()));
    }

    fn at_work(&self, force: f64, day: f64) -> AtWork<'_> {
        work(&self.machine, &self.case.ground, &self.inputs, force, 0.5, day)
    }

    fn need(&self) -> Need {
        let speed = self.inputs.goals.speed.unwrap_or_default();
        let window = self.sheet.down_force.window;
        let planter = &self.inputs.planter;
        need_of_row(planter, &self.inputs.field, &K, self.sheet.depth_used, speed, window)
    }

    fn best(&self, posterior: &Posterior, in_use: Option<f64>) -> f64 {
        let need = self.need();
        decide(&self.inputs.planter.down_force, &need, posterior, in_use, &Steps::of(&K, None))
            .force
    }

    fn act(&mut self, policy: Policy, round: usize, dug: &[Observation], learned: &mut Learned) {
        if policy == Policy::FixedStep {
            self.force = dug.first().map_or(self.force, |dug| self.fixed_step(dug));
            return;
        }
        let mut judged: Vec<Judgement> = Vec::new();
        for (place, dug) in (0_u128..).zip(dug) {
            let id = u128::from(self.case.id) * 100 + u128::try_from(round).unwrap_or(0) * 10;
            judged.push(self.judge(policy, (round, id + place), dug, learned));
        }
        if let Some(first) = judged.first() {
            self.note_names(first, round);
        }
        let unchecked = |f: &&Finding| blocks_force(f) && !self.checked.contains(&name(f));
        if let Some(finding) = judged.iter().flat_map(|j| &j.findings).find(unchecked) {
            if self.mended(finding) {
                return;
            }
            // Looked at and found in order: the change of force follows in the same stop.
            self.checked.insert(name(finding));
            self.story.false_alarms += 1;
        }
        self.force = match (policy, judged.first()) {
            (Policy::Proposal, Some(judged)) => self.proposed(judged),
            _ => self.best(&learned.posterior(&self.case.place), Some(self.force)),
        };
    }

    /// Judges a dig, and learns from it where the policy does.
    fn judge(
        &self,
        policy: Policy,
        (round, id): (usize, u128),
        dug: &Observation,
        learned: &mut Learned,
    ) -> Judgement {
        let digs_before = u32::try_from(round).unwrap_or(0);
        let context = Context::of_sheet(&self.inputs, &self.sheet, &K, digs_before);
        let judged = judge(dug, &context);
        let left = |f: &&Finding| !self.checked.contains(&name(f));
        let findings: Vec<Finding> = judged.findings.iter().filter(left).cloned().collect();
        let event = event_of_dig(id, self.case.place, dug, &context, &judged.statistics, &findings);
        if let Some(event) = event.filter(|_| policy == Policy::Learning) {
            learned.add(&event);
        }
        judged
    }

    /// Whether the finding led to a fault that is there; it is mended then.
    fn mended(&mut self, finding: &Finding) -> bool {
        let Some(fault) = self.machine.iron.fault.filter(|f| names(finding.cause, *f)) else {
            return false;
        };
        mend(&mut self.machine, fault);
        self.inputs.planter = self.machine.planter.clone();
        self.sheet = recommend(&self.inputs, &K);
        true
    }

    fn note_names(&mut self, judged: &Judgement, round: usize) {
        let Some(fault) = self.machine.iron.fault else { return };
        if judged.findings.first().is_some_and(|f| names(f.cause, fault)) {
            self.story.named_first.get_or_insert(round);
        }
        if judged.findings.iter().find(|f| f.rows.is_empty()).is_some_and(|f| names(f.cause, fault))
        {
            self.story.named.get_or_insert(round);
        }
    }

    fn proposed(&self, judged: &Judgement) -> f64 {
        match &judged.proposal.change {
            Change::DownForce { to, .. } => to.si(),
            _ => self.force,
        }
    }

    /// The rule of thumb: most wheels spin free, 50 lbf more; most cannot be turned, 50 lbf less.
    fn fixed_step(&self, dug: &Observation) -> f64 {
        let most = |feel: WheelFeel| {
            dug.rows().iter().filter(|r| r.gauge_wheels == Some(feel)).count() * 2
                > dug.rows().len()
        };
        let by = if most(WheelFeel::SpinFree) {
            FIFTY
        } else if most(WheelFeel::Locked) {
            -FIFTY
        } else {
            return self.force;
        };
        let source = &self.inputs.planter.down_force;
        if let DownForce::Spring { notches } = source {
            let next = |n: &f64| (*n - self.force) * by > 0.0;
            let ahead = notches.iter().map(|n| n.force.si()).filter(next);
            let near = |a: &f64, b: &f64| (a - self.force).abs().total_cmp(&(b - self.force).abs());
            return ahead.min_by(near).unwrap_or(self.force);
        }
        let (low, high) = source.reach().map_or((0.0, f64::INFINITY), |(a, b)| (a.si(), b.si()));
        let to = (self.force + by).clamp(low, high);
        source.nearest_settable(Force::from_si(to)).si()
    }

    /// Watches what a change did.
    fn watch(&mut self, before: f64, round: usize) {
        let moved = self.force - before;
        if moved.abs() < 1.0 {
            return;
        }
        let then = self.at_work(before, day(round));
        let (was_inside, load) = (then.in_window(), then.load());
        let (low, high) = self.case.ground.window();
        let now_inside = self.at_work(self.force, day(round)).in_window();
        self.story.changes += 1;
        self.story.moved_out |= was_inside && !now_inside;
        self.story.wrong_way |= (moved > 0.0 && load > high) || (moved < 0.0 && load < low);
        self.story.raised_on_fault |= moved > 0.0 && self.machine.iron.fault.is_some();
    }
}
