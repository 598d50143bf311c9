//! Digs on planters whose truth is known: how often the intervals and alarms are right.
//!
//! The pseudo-random numbers come from a fixed seed, so each run is the same.

mod cases;
mod digs;

use cases::q;
use digs::{Setup, good, good_row};
use domain::dig::Side;
use domain::stats::{Usual, apart, phi_inverse, sd_limits, squares};

/// Numbers of a normal distribution from a linear congruential generator (Knuth's MMIX constants).
struct Normal(u64);

impl Normal {
    fn next(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let [.., a, b, c, d] = (self.0 >> 32).to_be_bytes();
        let top = f64::from(u32::from_be_bytes([a, b, c, d]));
        phi_inverse((top + 0.5) / 2.0_f64.powi(32))
    }
}

/// A dig of `rows` rows with five seeds each, inches: mean, spread of rows, spread of seeds.
fn dig(rows: u16, mean: f64, between: f64, within: f64, z: &mut Normal) -> Setup {
    let mut setup = good();
    setup.planter.rows = 24;
    setup.rows = (2..2 + rows).map(good_row).collect();
    for row in &mut setup.rows {
        row.behind_tyre = false;
        let of_row = mean + between * z.next();
        let mut seed = || q((of_row + within * z.next()).clamp(0.0, 6.0), "[in_i]");
        row.seed_depths = (0..5).map(|_| seed()).collect();
    }
    setup
}

fn share(of: u32, mut hit: impl FnMut() -> bool) -> f64 {
    f64::from((0..of).filter(|_| hit()).map(|_| 1).sum::<u32>()) / f64::from(of)
}

#[test]
fn the_interval_of_the_mean_holds_the_truth_as_often_as_it_says() {
    let mut z = Normal(1);
    let covered = share(4_000, || {
        let depth = dig(5, 2.0, 0.10, 0.20, &mut z).judged().statistics.depth.unwrap();
        let truth = q(2.0, "[in_i]");
        depth.planter.low.unwrap() <= truth && truth <= depth.planter.high.unwrap()
    });
    // Four standard errors of a share of 0.95 in 4,000 are 0.014. A sound row that is set aside now
    // and then makes the interval a little too narrow: one share in a hundred is allowed for it.
    assert!(covered > 0.926 && covered < 0.964, "{covered}");
}

#[test]
fn seeds_as_units_would_have_promised_too_much() {
    let mut z = Normal(2);
    let covered = share(2_000, || {
        let depth = dig(4, 2.0, 0.15, 0.15, &mut z).judged().statistics.depth.unwrap();
        let half = 2.093 * depth.sd.unwrap() / f64::from(depth.seeds).sqrt();
        (depth.mean - q(2.0, "[in_i]")).abs() <= half
    });
    assert!(covered < 0.85, "{covered}: this is why rows are the units");
}

#[test]
fn alike_rows_seldom_raise_an_alarm() {
    let mut z = Normal(3);
    let alarms = share(2_000, || {
        let judged = dig(8, 2.0, 0.05, 0.25, &mut z).judged();
        !judged.statistics.depth.unwrap().set_aside.is_empty()
    });
    assert!(alarms < 0.05, "{alarms}");
}

#[test]
fn a_row_that_is_off_is_mostly_found() {
    let mut z = Normal(4);
    let found = share(1_000, || {
        let setup = dig(6, 2.0, 0.05, 0.20, &mut z).row(4, |r| digs::move_row(r, -0.6));
        let depth = setup.judged().statistics.depth.unwrap();
        depth.set_aside.iter().map(|s| s.row).eq([4])
    });
    assert!(found > 0.85, "{found}");
}

#[test]
fn p_values_of_alike_rows_are_level() {
    let mut z = Normal(5);
    let usual = Usual { grain: 0.0, between: 0.0 };
    let row = |z: &mut Normal| (0..4).map(|_| z.next()).collect::<Vec<f64>>();
    let small = share(4_000, || {
        let rows: Vec<Vec<f64>> = (0..5).map(|_| row(&mut z)).collect();
        apart(&rows[..1], &rows[1..], usual).unwrap().p < 0.05
    });
    // What is usual holds here exactly, so alarms are rarer than the level.
    assert!(small < 0.055 && small > 0.02, "{small}");
    let single = share(4_000, || {
        let rows: Vec<Vec<f64>> = (0..5).map(|_| vec![z.next()]).collect();
        apart(&rows[..2], &rows[2..], usual).unwrap().p < 0.05
    });
    assert!((single - 0.05).abs() < 0.0138, "{single}");
}

#[test]
fn limits_of_the_spread_hold_the_truth_as_often_as_they_say() {
    let mut z = Normal(6);
    let covered = share(4_000, || {
        let readings: Vec<f64> = (0..8).map(|_| z.next()).collect();
        let sd = (squares(&readings) / 7.0).sqrt();
        let (low, high) = sd_limits(sd, 7.0, 0.95).unwrap();
        low <= 1.0 && 1.0 <= high
    });
    assert!((covered - 0.95).abs() < 0.0138, "{covered}");
}

#[test]
fn the_rows_that_are_asked_for_mostly_settle_it() {
    let mut z = Normal(7);
    let (mut asked, mut settled) = (0, 0);
    for _ in 0..1_500 {
        let first = dig(3, 2.08, 0.08, 0.15, &mut z).judged().statistics.depth.unwrap();
        if first.settled.settled || !first.set_aside.is_empty() {
            continue;
        }
        let Some(more) = first.settled.more_rows else { continue };
        asked += 1;
        let second =
            dig((3 + more).min(22), 2.08, 0.08, 0.15, &mut z).judged().statistics.depth.unwrap();
        settled += u32::from(second.settled.side == Side::Inside);
    }
    assert!(asked > 300, "{asked}");
    let share = f64::from(settled) / f64::from(asked);
    assert!(share > 0.6, "{share} of {asked}");
}
