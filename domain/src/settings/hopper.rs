//! The hopper as it empties: whether one setting serves full and empty, and what to change at
//! which level where it does not.

use serde::{Deserialize, Serialize};

use super::box_states::Fill;
use super::choose::{AtFill, best, judged, settle};
use super::down_force::likely_band;
use super::need::{Lift, likely_balance, likely_speed_loss};
use super::row::Row;
use super::window::Window;
use crate::planter::{DownForce, Setting};
use crate::quantity::{Force, Measured};

/// Settings looked for on the way from full to empty.
const MOST_CHANGES: usize = 4;

/// What to do about the weight of the seed as a hopper empties.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HopperAdvice {
    /// Load that the gauge wheels lose from full to empty.
    pub swing: Force,
    /// Width of the window, from its low end to its ceiling.
    pub window_width: Force,
    /// Whether one setting can serve full and empty: the swing is no wider than the window.
    pub one_setting_serves: bool,
    /// The setting that is best at each level alone; an emptier hopper never needs a lighter one.
    pub at_levels: Vec<LevelSetting>,
    /// Where to change the setting on the way from full to empty; nothing when one serves.
    pub changes: Vec<HopperChange>,
    /// Share of a full hopper at which to refill, because no setting within reach keeps the wheels
    /// down below it; absent when the hopper can be run empty.
    pub refill_at: Option<f64>,
}

/// The setting for one level of the hopper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LevelSetting {
    /// The level.
    pub fill: Fill,
    /// The down force that the likely figures ask for at this level.
    pub need: Force,
    /// The down force with the best chance at this level.
    pub per_row: Force,
    /// How to set it.
    pub setting: Setting,
    /// The chance that comes with it, at this level.
    pub chance_in_window: f64,
}

/// A change of setting on the way from full to empty.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HopperChange {
    /// Share of a full hopper, 0 to 1, at and below which the setting serves; the first is 1.
    pub from_share: f64,
    /// The down force on each row.
    pub per_row: Force,
    /// How to set it.
    pub setting: Setting,
}

/// What the planter can be set to.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    pub down_force: &'a DownForce,
    /// The most that the frame holds, N.
    pub most: f64,
}

/// Works out the advice for hoppers on the units; `None` where the seed is on the frame.
pub(super) fn hopper_advice(
    row: &Row,
    lift: &Lift<'_>,
    window: &Window,
    source: Source<'_>,
    chosen: Force,
) -> Option<HopperAdvice> {
    if row.seed_full.likely <= 0.0 {
        return None;
    }
    let swing = row.seed_full.likely;
    let width = window.shown.ceiling.si() - window.shown.low.si();
    let at_levels = levels(row, lift, window, source);
    let load = Load::of(row, lift, window);
    let one_setting_serves = swing <= width;
    let (changes, reached) = if one_setting_serves {
        (Vec::new(), load.share_at_low(chosen.si()))
    } else {
        changes(&load, &at_levels, source)
    };
    Some(HopperAdvice {
        swing: Force::from_si(swing),
        window_width: Force::from_si(width),
        one_setting_serves,
        at_levels,
        changes,
        // Above 1 even a full hopper is too light: then refilling is no help.
        refill_at: (reached > 1e-3 && reached < 1.0).then_some(reached),
    })
}

/// The best setting at full, half and empty. Each is judged alone; no more force is let go of on
/// the way down than was chosen for a fuller hopper.
fn levels(row: &Row, lift: &Lift<'_>, window: &Window, source: Source<'_>) -> Vec<LevelSetting> {
    let mut heaviest = f64::NEG_INFINITY;
    let shares = [(Fill::Full, 1.0), (Fill::Half, 0.5), (Fill::Empty, 0.0)];
    shares
        .into_iter()
        .map(|(fill, share)| {
            let at = [AtFill::of(lift, window, (share, 1.0), None)];
            let Source { down_force, most } = source;
            let band = likely_band(row, &window.shown, share);
            let rough = best(down_force, &at, most, Some(band));
            let mut chosen = settle(down_force, rough, &at, most);
            if chosen.force < heaviest {
                chosen = judged(&at, heaviest);
            }
            heaviest = chosen.force;
            let per_row = Force::from_si(chosen.force);
            let balance = likely_balance(row, share);
            LevelSetting {
                fill,
                need: balance.needed_down_force(window.shown.aim) + likely_speed_loss(row),
                per_row,
                setting: down_force.setting_for(per_row),
                chance_in_window: chosen.chance,
            }
        })
        .collect()
}

/// The load over the hopper level in the middle of what is possible, N: settings are chosen by
/// their chance, and the chance goes over all of it.
struct Load {
    /// Load with an empty hopper and no down force.
    empty: f64,
    seed: f64,
    low: f64,
    ceiling: f64,
}

impl Load {
    fn of(row: &Row, lift: &Lift<'_>, window: &Window) -> Self {
        Self {
            empty: -lift.with_seed(0.0, None).curve().quantile(0.5),
            seed: row.seed_full.likely,
            low: window.shown.low.si(),
            ceiling: window.shown.ceiling.si(),
        }
    }

    /// The hopper share at which the load has fallen to the low end of the window.
    fn share_at_low(&self, force: f64) -> f64 {
        (self.low - self.empty - force) / self.seed
    }

    /// The down force that brings the load to the ceiling at a hopper share.
    fn force_to_ceiling(&self, share: f64) -> f64 {
        self.ceiling - self.empty - self.seed * share
    }
}

/// Settings from full to empty: each is kept until the load has fallen to the low end of the
/// window; the next goes no higher than the ceiling, and no higher than what is best when empty.
/// Also the share below which no setting serves.
fn changes(
    load: &Load,
    at_levels: &[LevelSetting],
    source: Source<'_>,
) -> (Vec<HopperChange>, f64) {
    let of = |fill: Fill| at_levels.iter().find(|l| l.fill == fill).map_or(0.0, |l| l.per_row.si());
    let set = |force: f64| Force::from_si(force.min(source.most));
    let change = |from_share: f64, force: f64| HopperChange {
        from_share,
        per_row: Force::from_si(force),
        setting: source.down_force.setting_for(Force::from_si(force)),
    };
    // Heavy enough when empty, and no heavier than that.
    let when_empty = source.down_force.settable_not_below(set(load.low - load.empty)).si();
    let last = of(Fill::Empty).max(when_empty.min(source.most));
    let mut force = of(Fill::Full);
    let mut plan = vec![change(1.0, force)];
    let mut share = load.share_at_low(force);
    while share > 1e-3 && plan.len() < MOST_CHANGES {
        let from = share.min(1.0);
        let under_ceiling = set(load.force_to_ceiling(from));
        let next = source.down_force.settable_not_above(under_ceiling).si().min(last);
        if next <= force + 1.0 {
            break;
        }
        plan.push(change(from, next));
        force = next;
        share = load.share_at_low(force);
    }
    (plan, share)
}
