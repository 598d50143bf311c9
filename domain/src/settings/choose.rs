//! Choosing the down force by its chance of being in the window.
//!
//! The ranges of the coefficients are wide and lopsided: a sum of likely figures says nothing of how
//! often it will do. So the setting is not worked out from defaults; each setting that the planter
//! can make is judged by the chance that the load then lies in the window, over everything that is
//! uncertain and over the hopper as it empties. Only settings that put the likely load into the
//! window are judged, where there are any: the most probable load of a lopsided range lies below
//! the likely one, and a sheet must not set what it calls too light itself. Between settings that
//! are nearly as good the lighter one wins: no more down force than needed.

use super::need::{Lift, Part};
use super::row::Row;
use super::window::Window;
use crate::planter::DownForce;
use crate::quantity::{Force, Measured};
use crate::stats::Curve;

/// Chances closer than this are a tie.
const TIE: f64 = 0.01;
/// Settings looked at in the first pass over a continuous source.
const COARSE: u32 = 10;
/// Settings looked at in the second pass, around the best of the first.
const FINE: u32 = 8;

/// The down force at which the load passes the edges of the window, at one level of the hopper.
#[derive(Debug, Clone, Copy)]
pub(super) struct AtFill {
    /// Share of the time for which this level stands.
    pub weight: f64,
    /// Down force at which the load reaches the low end.
    pub low: Curve,
    /// Down force at which the load passes the ceiling.
    pub ceiling: Curve,
}

impl AtFill {
    /// At a hopper that is full to a share. With `known`, that part is measured.
    pub(super) fn of(
        lift: &Lift<'_>,
        window: &Window,
        (box_share, weight): (f64, f64),
        known: Option<Part>,
    ) -> Self {
        let lift = lift.with_seed(box_share, known);
        Self {
            weight,
            low: lift.plus(window.low).curve(),
            ceiling: lift.plus(window.ceiling).curve(),
        }
    }
}

/// Hopper levels: full, half, empty, weighed by Simpson's rule; one level with central fill.
pub(super) fn fills(
    lift: &Lift<'_>,
    row: &Row,
    window: &Window,
    known: Option<Part>,
) -> Vec<AtFill> {
    let level = |at: (f64, f64)| AtFill::of(lift, window, at, known);
    if row.seed_full.likely <= 0.0 {
        return vec![level((0.0, 1.0))];
    }
    vec![level((1.0, 1.0 / 6.0)), level((0.5, 4.0 / 6.0)), level((0.0, 1.0 / 6.0))]
}

/// Chance that the load lies in the window with this down force, over all hopper levels.
///
/// The load is at or above the low end less the cases in which it is above the ceiling too. Where
/// the ranges of both edges overlap this is the least that the chance can be.
pub(super) fn chance(fills: &[AtFill], force: f64) -> f64 {
    let inside = |at: &AtFill| at.weight * (at.low.below(force) - at.ceiling.below(force)).max(0.0);
    fills.iter().map(inside).sum()
}

/// The down forces, in N, that put the likely load into the window.
#[derive(Debug, Clone, Copy)]
pub(super) struct Band {
    pub from: f64,
    pub to: f64,
}

impl Band {
    fn holds(self, force: f64) -> bool {
        (self.from - 1e-9..=self.to + 1e-9).contains(&force)
    }
}

/// A down force and the chance that comes with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Chosen {
    /// The down force, N.
    pub force: f64,
    /// Chance of being in the window.
    pub chance: f64,
}

/// A down force with its chance.
pub(super) fn judged(fills: &[AtFill], force: f64) -> Chosen {
    Chosen { force, chance: chance(fills, force) }
}

/// The most that the source gives without passing `most`, N; its least where all of it does.
pub(super) fn heaviest(source: &DownForce, most: f64) -> f64 {
    if let DownForce::Spring { notches } = source {
        let allowed = notches.iter().map(|n| n.force.si()).filter(|f| *f <= most + 1e-9);
        let least = notches.first().map_or(0.0, |n| n.force.si());
        return allowed.reduce(f64::max).unwrap_or(least);
    }
    let (least, greatest) =
        source.reach().map_or((0.0, f64::INFINITY), |(least, most)| (least.si(), most.si()));
    let given = greatest.min(most).max(least);
    if given.is_finite() { given } else { 0.0 }
}

/// The best setting within reach, lighter where it is a tie.
///
/// `most` caps the reach, for instance by what the frame can hold. Outside of `band` only where
/// nothing within it can be set.
pub(super) fn best(source: &DownForce, fills: &[AtFill], most: f64, band: Option<Band>) -> Chosen {
    let judge = |force: f64| judged(fills, force);
    match source {
        DownForce::WeightOnly => judge(0.0),
        DownForce::Spring { notches } => {
            let allowed = notches.iter().map(|n| n.force.si()).filter(|f| *f <= most + 1e-9);
            let lightest = notches.first().map_or(0.0, |n| n.force.si());
            let likely = allowed.clone().filter(|f| band.is_none_or(|band| band.holds(*f)));
            lightest_of_best(likely.map(judge))
                .or_else(|| lightest_of_best(allowed.map(judge)))
                .unwrap_or_else(|| judge(lightest))
        }
        DownForce::AirBag { .. } | DownForce::Hydraulic { .. } => {
            let (low, high) =
                source.reach().map_or_else(|| open_reach(fills), |(a, b)| (a.si(), b.si()));
            let high = high.min(most).max(low);
            // From one that can be set to one that can be set: rounding must not leave the band.
            let (from, to) = band.map_or((low, high), |band| {
                let from = source.settable_not_below(Force::from_si(band.from)).si();
                let to = source.settable_not_above(Force::from_si(band.to)).si();
                (low.max(from), high.min(to))
            });
            if from <= to {
                best_between(from, to, &judge)
            } else {
                best_between(low, high, &judge)
            }
        }
    }
}

/// Where nobody knows the reach, look where a setting could make sense.
fn open_reach(fills: &[AtFill]) -> (f64, f64) {
    let most = fills.iter().map(|at| at.ceiling.quantile(0.95)).fold(0.0, f64::max);
    (0.0, most)
}

fn best_between(low: f64, high: f64, judge: &impl Fn(f64) -> Chosen) -> Chosen {
    let step = (high - low) / f64::from(COARSE);
    let rough = lightest_of_best((0..=COARSE).map(|i| judge(low + step * f64::from(i))));
    let centre = rough.map_or(low, |c| c.force);
    let from = (centre - step).max(low);
    let to = (centre + step).min(high);
    let fine = (to - from) / f64::from(FINE);
    lightest_of_best((0..=FINE).map(|i| judge(from + fine * f64::from(i))))
        .unwrap_or_else(|| judge(low))
}

/// Settings come by rising force.
fn lightest_of_best(settings: impl Iterator<Item = Chosen>) -> Option<Chosen> {
    let all: Vec<Chosen> = settings.collect();
    let top = all.iter().map(|c| c.chance).fold(0.0, f64::max);
    all.into_iter().find(|c| c.chance >= top - TIE)
}

/// Moves a force to one that can be set, never above what the frame holds where less can be set.
pub(super) fn settle(source: &DownForce, rough: Chosen, levels: &[AtFill], most: f64) -> Chosen {
    let nearest = source.nearest_settable(Force::from_si(rough.force)).si();
    if nearest <= most + 1e-9 {
        return judged(levels, nearest);
    }
    judged(levels, source.settable_not_above(Force::from_si(most)).si())
}
