//! Plays one field: plant, dig, change, up to three times.

use std::collections::HashSet;

use domain::dig::{Cause, Change, Context, Finding, Judgement, Observation, WheelFeel, judge};
use domain::learning::{Learned, Need, blocks_force, factor_of_row, need_of_row};
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
    /// The sheet with what digs taught, then what each dig check proposes with all digs in mind.
    Learning,
    /// What each dig check proposes by itself.
    OneDig,
    /// Free: 50 lbf more. Locked: 50 lbf less. With a log: below the window, above it.
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
    /// Rows dug in all.
    pub rows: usize,
}

struct Player<'a> {
    case: &'a Case,
    policy: Policy,
    protocol: Protocol,
    machine: Machine,
    inputs: Inputs,
    sheet: Recommendation,
    checked: HashSet<Cause>,
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
        policy,
        protocol,
        machine: case.machine.clone(),
        inputs: case.inputs.clone(),
        sheet: case.sheet.clone(),
        checked: HashSet::new(),
        force: case.sheet.down_force.per_row.si(),
        story: Story { fault: case.machine.iron.fault, ..Story::default() },
    };
    if policy == Policy::Learning {
        player.new_sheet(learned);
        player.force = player.sheet.down_force.per_row.si();
    }
    player.look(0, learned);
    for round in 0..ROUNDS {
        let before = player.force;
        player.stop(round, learned);
        player.watch(before, round);
        player.look(round + 1, learned);
    }
    player.story
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
        let lessons = learned.lessons(&self.case.place);
        let speed = self.inputs.goals.speed.unwrap_or_default();
        let (planter, field) = (&self.inputs.planter, &self.inputs.field);
        let at = (self.sheet.depth_used, speed);
        let range = factor_of_row(planter, field, &K, at, Some(&lessons)).range();
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

    /// The sheet by what is known now.
    fn new_sheet(&mut self, learned: &Learned) {
        self.inputs.lessons = Some(learned.lessons(&self.case.place));
        self.sheet = recommend(&self.inputs, &K);
    }

    /// Digs, at more than one place where the protocol asks for it, and changes one thing.
    fn stop(&mut self, round: usize, learned: &mut Learned) {
        let number = u64::try_from(round).unwrap_or(0);
        let fill = Dice::of(self.case.id, 20 + number).between(0.2, 0.9);
        let mut dug: Vec<Observation> = Vec::new();
        let mut last: Option<Judgement> = None;
        for place in 0..self.protocol.places {
            let at =
                work(&self.machine, &self.case.ground, &self.inputs, self.force, fill, day(round));
            let found = dig(self.case.id, (number, place), &at, &self.inputs, self.protocol);
            self.story.rows += found.rows().len();
            if self.policy != Policy::FixedStep {
                let judged = self.judge(number * 10 + place, &found, learned);
                if place == 0 {
                    self.note_names(&judged, round);
                }
                if self.looked_and_mended(&judged, learned) {
                    return;
                }
                let enough = self.protocol.enough.is_some_and(|p| chance(&judged) >= p);
                last = Some(judged);
                if enough {
                    break;
                }
            }
            dug.push(found);
        }
        self.force = match &last {
            Some(judged) => self.proposed(judged),
            None => self.fixed_step(&dug),
        };
    }

    /// Looks for what comes before the force; whether a fault was found and mended.
    fn looked_and_mended(&mut self, judged: &Judgement, learned: &Learned) -> bool {
        let unchecked = |f: &&Finding| blocks_force(f) && !self.checked.contains(&f.cause);
        let Some(finding) = judged.findings.iter().find(unchecked) else { return false };
        if self.mended(finding, learned) {
            return true;
        }
        // Looked at and found in order: the change of force follows in the same stop.
        self.checked.insert(finding.cause);
        self.story.false_alarms += 1;
        false
    }

    /// Judges a dig, and learns from it where the policy does.
    fn judge(&self, number: u64, dug: &Observation, learned: &mut Learned) -> Judgement {
        let context = Context::of_sheet(&self.inputs, &self.sheet, &K);
        if self.policy != Policy::Learning {
            return judge(dug, &context);
        }
        let id = u128::from(self.case.id) * 100 + u128::from(number);
        let judged = judge(dug, &context.learning(learned, self.case.place, id));
        if let Some(event) = &judged.lesson {
            learned.add(event);
        }
        judged
    }

    /// Whether the finding led to a fault that is there; it is mended then.
    fn mended(&mut self, finding: &Finding, learned: &Learned) -> bool {
        let Some(fault) = self.machine.iron.fault.filter(|f| names(finding.cause, *f)) else {
            return false;
        };
        mend(&mut self.machine, fault);
        self.inputs.planter = self.machine.planter.clone();
        if self.policy == Policy::Learning {
            self.new_sheet(learned);
        } else {
            self.sheet = recommend(&self.inputs, &K);
        }
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

    /// What the dig check proposes. Where it still asks to look at what was found in order, the force
    /// that it would set.
    fn proposed(&self, judged: &Judgement) -> f64 {
        let looked = judged.proposal.cause.is_some_and(|cause| self.checked.contains(&cause));
        match (&judged.proposal.change, &judged.learned) {
            (Change::DownForce { to, .. }, _) => to.si(),
            (_, Some(taught)) if looked => taught.set.force.si(),
            _ => self.force,
        }
    }

    /// The rule of thumb: most wheels spin free, 50 lbf more; most cannot be turned, 50 lbf less.
    fn fixed_step(&self, dug: &[Observation]) -> f64 {
        let rows: Vec<_> = dug.iter().flat_map(Observation::rows).collect();
        let most = |feel: WheelFeel| {
            let so = |row: &&&domain::dig::RowReading| match &row.logged_load {
                Some(log) => self.feels(log.mean) == feel,
                None => row.gauge_wheels == Some(feel),
            };
            rows.iter().filter(so).count() * 2 > rows.len()
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

    /// A logged load against the window of the sheet.
    fn feels(&self, load: Force) -> WheelFeel {
        let window = self.sheet.down_force.window;
        if load < window.low {
            WheelFeel::SpinFree
        } else if load > window.ceiling {
            WheelFeel::Locked
        } else {
            WheelFeel::TurnWithEffort
        }
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

/// Chance of being in the window with the force that was decided on.
fn chance(judged: &Judgement) -> f64 {
    judged.learned.as_ref().map_or(0.0, |taught| taught.set.chance)
}
