//! How often the intervals hold the truth, on digs drawn by the process that they assume.

use domain::learning::{DigEvent, Learned};

use crate::digs::{CLASS, Dice, dug, event, place, prior, reading};

/// Three fields of a planter, two digs each; the third field is asked about.
fn one(dice: &mut Dice) -> (bool, bool) {
    let p = prior();
    let mut truth = dice.within(0.0, p.practice);
    for sd in [p.class, p.planter] {
        truth = dice.within(truth, sd);
    }
    let mut digs: Vec<DigEvent> = Vec::new();
    let mut last = 0.0;
    for field in 1..=3_u128 {
        let field_truth = dice.within(truth, p.field);
        let season = dice.within(field_truth, p.season);
        for dig in 0..2_u128 {
            let x = dice.within(season, p.dig);
            let pushes = 1_000.0 + 1_000.0 * dice.share() + 600.0;
            let id = field * 10 + dig;
            digs.push(event(id, place(CLASS, 1, field, 2026), pushes, dug(x.exp(), pushes, dice)));
        }
        last = dice.within(season, p.dig).exp();
    }
    let learned = Learned::from_events(p, reading(), 2026, &digs);
    let range = learned.posterior(&place(CLASS, 1, 3, 2026)).range();
    (range.low <= last && last <= range.high, last < range.likely)
}

#[test]
fn nine_of_ten_intervals_hold_the_truth() {
    let mut dice = Dice(5);
    let all: Vec<(bool, bool)> = (0..600).map(|_| one(&mut dice)).collect();
    let share = |hits: usize| hits as f64 / all.len() as f64;
    let held = share(all.iter().filter(|(held, _)| *held).count());
    // Four standard errors of 0.9 in 600 are 0.049.
    assert!((held - 0.9).abs() < 0.049, "{held}");
    let below = share(all.iter().filter(|(_, below)| *below).count());
    assert!((below - 0.5).abs() < 0.082, "{below}");
}
