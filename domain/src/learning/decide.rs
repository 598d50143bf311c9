//! The next down force, from what is known about the resistance.

use serde::{Deserialize, Serialize};

use super::posterior::Posterior;
use crate::planter::DownForce;
use crate::provenance::Coefficients;
use crate::quantity::{Force, Measured};
use crate::settings::LoadWindow;

/// Chances closer than this are a tie; the lighter setting wins.
const TIE: f64 = 0.01;
/// Settings looked at between the ends of what can be set.
const SETTINGS: u32 = 60;

/// What a row needs: load = down force + `carried` - `metal` x factor. N.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// Hopper levels: share of the time, and everything but down force, opener and coulter.
    pub levels: Vec<(f64, f64)>,
    /// Likely reaction of opener and coulter.
    pub metal: f64,
    /// Share of the fields, and the load below which wheels lose contact too often there: how much
    /// the load scatters along the row is not known exactly either. N.
    pub lows: Vec<(f64, f64)>,
    /// The window in which the load should be, at the likely scatter.
    pub window: LoadWindow,
}

/// What holds a change of the down force back. N.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Steps {
    /// Largest change after one dig.
    pub largest: f64,
    /// Gain in chance for which a change is worth a stop.
    pub worth: f64,
    /// The most that the frame holds per row.
    pub frame_most: Option<f64>,
}

impl Steps {
    /// The steps that the coefficients allow.
    pub fn of(k: &Coefficients, frame_most: Option<Force>) -> Self {
        Self {
            largest: k.largest_learned_step.value,
            worth: k.change_worth.value,
            frame_most: frame_most.map(Measured::si),
        }
    }
}

/// A down force that was decided on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Decided {
    /// The force, N.
    pub force: f64,
    /// Chance that the load then lies in the window.
    pub chance: f64,
    /// The same with the force that is in use, where one is.
    pub chance_as_set: Option<f64>,
    /// Whether the largest step held it back.
    pub held: bool,
}

/// Chance that the load lies in the window at a down force, over hopper levels, scatter along the
/// row and factor.
pub fn chance_in_window(need: &Need, posterior: &Posterior, force: f64) -> f64 {
    let metal = need.metal.max(1e-9);
    let at = |(weight, carried): &(f64, f64)| {
        let below = |load: f64| posterior.below((force + carried - load) / metal);
        let too_heavy = below(need.window.ceiling.si());
        let kept = |(share, low): &(f64, f64)| share * (below(*low) - too_heavy).max(0.0);
        weight * need.lows.iter().map(kept).sum::<f64>()
    };
    need.levels.iter().map(at).sum()
}

/// The setting with the best chance, lighter where it is a tie, no further from the force in use
/// than the largest step. The force in use stays where a change gains too little.
pub fn decide(
    source: &DownForce,
    need: &Need,
    posterior: &Posterior,
    in_use: Option<f64>,
    steps: &Steps,
) -> Decided {
    let judged = |force: f64| (force, chance_in_window(need, posterior, force));
    let all: Vec<(f64, f64)> =
        settings(source, need, posterior, steps).into_iter().map(judged).collect();
    let now = in_use.map(judged);
    let best = lightest_of_best(&all).or(now).unwrap_or((0.0, 0.0));
    let by = in_use.map_or(0.0, |now| best.0 - now);
    let held = by.abs() > steps.largest + 1e-6;
    let chosen = match (now, held) {
        (Some(now), _) if best.1 < now.1 + steps.worth => now,
        (Some(now), true) => towards(&all, now, steps.largest * by.signum()),
        _ => best,
    };
    Decided { force: chosen.0, chance: chosen.1, chance_as_set: now.map(|n| n.1), held }
}

/// The setting as far towards the best one as a step goes; the one in use where none lies between.
fn towards(all: &[(f64, f64)], now: (f64, f64), step: f64) -> (f64, f64) {
    let gone = |force: f64| (force - now.0) * step.signum();
    let between = all.iter().filter(|(force, _)| (0.0..=step.abs() + 1e-6).contains(&gone(*force)));
    between.copied().max_by(|a, b| gone(a.0).total_cmp(&gone(b.0))).unwrap_or(now)
}

/// Settings by rising force.
fn lightest_of_best(all: &[(f64, f64)]) -> Option<(f64, f64)> {
    let top = all.iter().map(|(_, chance)| *chance).fold(0.0, f64::max);
    all.iter().find(|(_, chance)| *chance >= top - TIE).copied()
}

/// The settings that the source can make, by rising force.
fn settings(source: &DownForce, need: &Need, posterior: &Posterior, steps: &Steps) -> Vec<f64> {
    let frame = steps.frame_most.unwrap_or(f64::INFINITY);
    if let DownForce::Spring { notches } = source {
        return notches.iter().map(|n| n.force.si()).filter(|f| *f <= frame + 1e-9).collect();
    }
    let (low, high) = source
        .reach()
        .map_or_else(|| open_reach(need, posterior), |(least, most)| (least.si(), most.si()));
    let high = high.min(frame).max(low);
    let step = (high - low) / f64::from(SETTINGS);
    let mut all: Vec<f64> = (0..=SETTINGS)
        .map(|i| source.nearest_settable(Force::from_si(low + step * f64::from(i))).si())
        .filter(|force| *force <= frame + 1e-6)
        .collect();
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    all
}

/// Where nobody knows the reach, look where a setting could make sense.
fn open_reach(need: &Need, posterior: &Posterior) -> (f64, f64) {
    let least = need.levels.iter().map(|(_, carried)| *carried).fold(f64::INFINITY, f64::min);
    let most = need.metal * posterior.quantile(0.95) + need.window.ceiling.si() - least;
    (0.0, most.max(0.0))
}
