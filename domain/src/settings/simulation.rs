//! The ranges worked out by moments against a seeded simulation, for planters and fields of all
//! kinds.
//!
//! The simulation draws every figure of a row from its triangle, or by ratios, and adds the balance up, draw by
//! draw. It shares the figures with the engine, and nothing of how the engine carries them on.

#![expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test counts below 2^53"
)]

#[path = "../../tests/cases/mod.rs"]
mod cases;

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

use super::choose::{chance, fills};
use super::down_force::{down_force, half_full};
use super::force_ranges::NamedForce;
use super::need::Lift;
use super::row::Row;
use super::window::{Window, ceiling};
use super::{DownForceAdvice, Inputs};
use crate::provenance::Coefficients;
use crate::quantity::{Measured, Ratio};
use crate::stats::{Range, phi_inverse};

const K: Coefficients = Coefficients::STANDARD;
const CASES: usize = 300;
const DRAWS: usize = 20_000;

/// A small generator of its own (Marsaglia 2003, xorshift).
struct Draw(u64);

impl Draw {
    fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From a triangle, by the inverse of its distribution.
    fn of(&mut self, range: Range) -> f64 {
        let p = self.uniform();
        let Range { low, likely, high } = range;
        if high <= low {
            return likely;
        }
        if p < (likely - low) / (high - low) {
            low + (p * (high - low) * (likely - low)).sqrt()
        } else {
            high - ((1.0 - p) * (high - low) * (high - likely)).sqrt()
        }
    }
}

/// The value by ratios below which a share `p` lies: on either side of the likely figure a line that
/// falls to nothing at the end.
fn by_ratio(p: f64, Range { low, likely, high }: Range) -> f64 {
    let (end, share) = if p < 0.5 { (low, 2.0 * p) } else { (high, 2.0 - 2.0 * p) };
    likely * ((end / likely).ln() * (1.0 - share.sqrt())).exp()
}

/// One planter in one field, as it may really be.
struct World {
    opener: f64,
    coulter: f64,
    lift: f64,
    seed: f64,
    low: f64,
    aim: f64,
    top: f64,
}

impl World {
    fn drawn(row: &Row, window: &Window, draw: &mut Draw) -> Self {
        let n = draw.of(row.exponent);
        let soil = by_ratio(draw.uniform(), row.soil.range);
        let cutting = soil * (1.0 + draw.of(row.residue_rise) * draw.of(row.mat));
        let hard = draw.uniform();
        let opener = by_ratio(hard, row.opener) * (row.depth / 0.05).powf(n) * cutting;
        let coulter_depth = draw.of(row.coulter_depth);
        let coulter = row
            .coulter
            .map_or(0.0, |k| by_ratio(hard, k) * (coulter_depth / 0.05).powf(n) * cutting);
        let on_unit = if row.coulter_on_unit { coulter } else { 0.0 };
        let lift = opener
            + on_unit
            + draw.of(row.cleaner)
            + draw.of(row.closing)
            + draw.of(row.draft) * draw.of(row.arm_slope)
            + draw.of(row.lost_to_speed) * row.faster
            - draw.of(row.unit)
            - draw.of(row.attachments);
        let scatter = draw.of(Range::of(&K.load_scatter));
        let floor = draw.of(Range::of(&K.least_load));
        let top = draw.of(Range::of(ceiling(row.moisture, &K)));
        let edges = window.shown.edges.unwrap();
        let for_loss = |p: f64| (-phi_inverse(p) * scatter).max(floor);
        Self {
            opener,
            coulter,
            lift,
            seed: draw.of(row.seed_full),
            low: if window.shown.room { for_loss(edges.tolerated_loss) } else { floor },
            aim: for_loss(edges.aimed_loss).min(top),
            top,
        }
    }

    fn inside(&self, force: f64, box_share: f64) -> bool {
        let load = force - self.lift + self.seed * box_share;
        load >= self.low && load <= self.top
    }
}

fn sorted(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut all: Vec<f64> = values.collect();
    all.sort_by(f64::total_cmp);
    all
}

fn at(sorted: &[f64], p: f64) -> f64 {
    sorted[(p * sorted.len() as f64) as usize]
}

/// The worst differences that were seen.
#[derive(Debug, Default)]
struct Worst {
    need: [f64; 3],
    opener: [f64; 2],
    coulter: [f64; 2],
    load: [f64; 2],
    chance: f64,
    chance_at_best: f64,
}

fn keep(worst: &mut f64, got: f64) {
    *worst = worst.max(got.abs());
}

fn compare(case: &Inputs, loss: Option<Ratio>, draw: &mut Draw, worst: &mut Worst) {
    let (planter, goals) = (&case.planter, &case.goals);
    let depth = goals.depth.unwrap_or_else(|| cases::q(2.0, "[in_i]"));
    let speed = goals.speed.unwrap_or_else(|| cases::q(5.0, "[mi_i]/h"));
    let row = Row::gather(planter, &case.field, &K, depth, speed);
    let window = Window::of(row.moisture, loss, &K, None);
    let engine = down_force(planter, &row, &window, None, &K);
    let worlds: Vec<World> = (0..DRAWS).map(|_| World::drawn(&row, &window, draw)).collect();
    needs(&row, &window, &worlds, &engine, worst);
    parts(&worlds, &engine, worst);
    chances(&row, &window, &worlds, engine.per_row.si(), worst);
}

/// Quantiles of the needed down force, as shares of the width from 5 to 95 %.
fn needs(
    row: &Row,
    window: &Window,
    worlds: &[World],
    engine: &DownForceAdvice,
    worst: &mut Worst,
) {
    let half = half_full(row);
    let needs = sorted(worlds.iter().map(|w| w.aim + w.lift - w.seed * half));
    let width = at(&needs, 0.95) - at(&needs, 0.05);
    let curve = Lift::of(row).with_seed(half, None).plus(window.aim).curve();
    for (i, (got, p)) in
        [(engine.need_low.si(), 0.05), (curve.quantile(0.5), 0.5), (engine.need_high.si(), 0.95)]
            .into_iter()
            .enumerate()
    {
        keep(&mut worst.need[i], (got - at(&needs, p)) / width);
    }
    let empty = engine.as_box_empties.last().unwrap();
    let loads = sorted(worlds.iter().map(|w| (engine.per_row.si() - w.lift).max(0.0)));
    for (i, (got, p)) in
        [(empty.load_low.si(), 0.05), (empty.load_high.si(), 0.95)].into_iter().enumerate()
    {
        keep(&mut worst.load[i], (got - at(&loads, p)) / width);
    }
}

/// Quantiles of opener and coulter. The range that is shown always holds the likely figure.
fn parts(worlds: &[World], engine: &DownForceAdvice, worst: &mut Worst) {
    let mut check = |name: NamedForce, drawn: Vec<f64>, kept: fn(&mut Worst) -> &mut [f64; 2]| {
        let Some(range) = engine.forces.iter().find(|f| f.force == name) else { return };
        let (low, high) = (at(&drawn, 0.05), at(&drawn, 0.95));
        let width = high - low;
        if width < 1.0 {
            return;
        }
        let likely = range.likely.si();
        keep(&mut kept(worst)[0], (range.low.si() - low.min(likely)) / width);
        keep(&mut kept(worst)[1], (range.high.si() - high.max(likely)) / width);
    };
    check(NamedForce::Opener, sorted(worlds.iter().map(|w| w.opener)), |w| &mut w.opener);
    let coulters = sorted(worlds.iter().map(|w| w.coulter));
    check(NamedForce::Coulter, coulters.clone(), |w| &mut w.coulter);
    check(NamedForce::FrameCoulter, coulters, |w| &mut w.coulter);
}

/// The chance of being in the window, at the force of the planter and at the one that would be
/// best if anything could be set.
fn chances(row: &Row, window: &Window, worlds: &[World], set: f64, worst: &mut Worst) {
    let levels: &[(f64, f64)] = if row.seed_full.likely > 0.0 {
        &[(1.0, 1.0 / 6.0), (0.5, 4.0 / 6.0), (0.0, 1.0 / 6.0)]
    } else {
        &[(0.0, 1.0)]
    };
    let simulated = |force: f64| {
        let share = |(box_share, weight): &(f64, f64)| {
            let inside = worlds.iter().filter(|w| w.inside(force, *box_share)).count();
            weight * inside as f64 / DRAWS as f64
        };
        levels.iter().map(share).sum::<f64>()
    };
    let lift = Lift::of(row);
    let fills = fills(&lift, row, window, None);
    let middle = lift.with_seed(half_full(row), None).plus(window.aim).curve().quantile(0.5);
    keep(&mut worst.chance, chance(&fills, set) - simulated(set));
    keep(&mut worst.chance_at_best, chance(&fills, middle) - simulated(middle));
}

#[test]
fn moments_agree_with_simulation() {
    let mut runner = TestRunner::deterministic();
    let mut draw = Draw(0x2026_1125);
    let mut worst = Worst::default();
    for i in 0..CASES {
        let case = cases::inputs().new_tree(&mut runner).unwrap().current();
        let loss = (i % 3 == 0).then(|| Ratio::from_si(0.02 + 0.01 * (i % 12) as f64));
        compare(&case, loss, &mut draw, &mut worst);
    }
    println!("{CASES} cases, {DRAWS} draws each: {worst:#?}");
    let Worst { need, opener, coulter, load, chance, chance_at_best } = worst;
    for share in need.into_iter().chain(load) {
        assert!(share < 0.055, "needed force and load: {share} of the width");
    }
    for share in opener.into_iter().chain(coulter) {
        assert!(share < 0.06, "opener and coulter: {share} of the width");
    }
    assert!(chance < 0.035 && chance_at_best < 0.035, "chance: {chance} {chance_at_best}");
}
