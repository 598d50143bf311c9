//! Somebody walks back and digs: some rows, some seeds, a tape with eighths of an inch, and now
//! and then a misreading.

use domain::dig::{Bottom, CleanerRunning, Closure, PrintDepth, Wall, WheelFeel};

use super::super::dice::Dice;
use super::row::Row;
use super::{Ground, INCH, InUse, Iron};

/// What was written down.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::demo) struct Dig {
    /// The rows, by number.
    pub rows: Vec<DugRow>,
}

/// What was written down for one row. Depths and spacings in inches.
#[derive(Debug, Clone, PartialEq)]
#[expect(clippy::struct_excessive_bools, reason = "each is a question on the grower's list")]
pub(in crate::demo) struct DugRow {
    /// The row, counted from 1.
    pub row: u16,
    /// Whether it runs behind a tyre.
    pub behind_tyre: bool,
    /// Whether it is an outer row.
    pub outer: bool,
    /// Depth of each seed, in.
    pub seed_depths: Vec<f64>,
    /// Distance from seed to seed, in.
    pub spacings: Vec<f64>,
    /// How the wheels turn.
    pub gauge_wheels: WheelFeel,
    /// The print of the wheels.
    pub print: PrintDepth,
    /// The wall of the furrow.
    pub wall: Wall,
    /// The bottom of the furrow.
    pub bottom: Bottom,
    /// Whether the seed lies on it.
    pub seed_on_bottom: bool,
    /// How the furrow is closed.
    pub closed: Closure,
    /// Whether residue is tucked in.
    pub residue_in_furrow: bool,
    /// Whether the soil around the seed is moist.
    pub moist_at_seed: bool,
    /// How the row cleaner runs; `None` without one.
    pub cleaner: Option<CleanerRunning>,
}

/// How well the tape is held, in.
const HAND: f64 = 0.05;
/// Share of the readings that are misread by half an inch.
const MISREAD: f64 = 0.012;
/// Finest step on the tape, in.
const EIGHTH: f64 = 0.125;

/// Digs behind a planter in a field. `words` say which dig it is.
pub(in crate::demo) fn dig(iron: &Iron, ground: &Ground, in_use: &InUse, words: &str) -> Dig {
    let mut dice = Dice::of(&format!("{words} which rows"));
    let rows = chosen_rows(iron, &mut dice);
    let dug = rows.into_iter().map(|number| {
        let row = Row { iron, ground, in_use, number };
        dug_row(&row, &mut Dice::of(&format!("{words} row {number}")))
    });
    Dig { rows: dug.collect() }
}

/// Four to six rows: the ends, one behind a tyre, and some between.
fn chosen_rows(iron: &Iron, dice: &mut Dice) -> Vec<u16> {
    let wanted = 4 + dice.pick(3);
    let mut rows: Vec<u16> = [1, iron.rows].into();
    rows.extend((1..=iron.rows).find(|row| iron.behind_tyre(*row)));
    rows.extend(iron.odd_row.map(|(row, _)| row).filter(|row| !iron.behind_tyre(*row)));
    let left: Vec<u16> = (2..iron.rows).filter(|row| !rows.contains(row)).collect();
    let start = dice.pick(left.len());
    let spread = left.iter().cycle().skip(start).step_by(3).take(left.len());
    for row in spread.chain(&left) {
        let usual = !iron.behind_tyre(*row) && !rows.contains(row);
        if usual && rows.len() < wanted {
            rows.push(*row);
        }
    }
    rows.sort_unstable();
    rows
}

fn dug_row(row: &Row<'_>, dice: &mut Dice) -> DugRow {
    let iron = row.iron;
    let seeds = 5 + dice.pick(4);
    let depths: Vec<f64> = (0..seeds).map(|_| row.seed_depth(dice)).collect();
    let mean = domain::stats::mean(&depths).unwrap_or(0.0);
    DugRow {
        row: row.number,
        behind_tyre: iron.behind_tyre(row.number),
        outer: iron.outer(row.number),
        seed_depths: depths.iter().map(|depth| read(depth / INCH, dice)).collect(),
        spacings: spacings(row, seeds, dice),
        gauge_wheels: row.wheels(),
        print: row.print(),
        wall: row.wall(),
        bottom: Bottom::V,
        seed_on_bottom: true,
        closed: row.closed(dice),
        residue_in_furrow: row.tucked(dice),
        moist_at_seed: mean > row.ground.moist_from,
        cleaner: row.cleaner(),
    }
}

/// What the tape says of a depth, in.
fn read(true_inches: f64, dice: &mut Dice) -> f64 {
    let slip = if dice.happens(MISREAD) { 0.5 } else { 0.0 };
    to_eighth(true_inches + dice.scatter(HAND) + slip)
}

fn to_eighth(inches: f64) -> f64 {
    ((inches / EIGHTH).round() * EIGHTH).max(0.0)
}

/// Distances between the seeds that were found, in: skips leave gaps, doubles lie side by side,
/// and seed tumbles more at speed.
fn spacings(row: &Row<'_>, seeds: usize, dice: &mut Dice) -> Vec<f64> {
    let (skips, doubles) = row.iron.skips_doubles;
    let wanted = row.in_use.spacing / INCH;
    let tumble = 0.14 + 0.02 * (row.in_use.speed - 8.0).max(0.0);
    let one = |dice: &mut Dice| {
        let roll = dice.share();
        let times = if roll < skips {
            2.0
        } else if roll < skips + doubles {
            0.15
        } else {
            1.0
        };
        to_eighth(wanted * (times + dice.scatter(tumble)).max(0.05))
    };
    (1..seeds).map(|_| one(dice)).collect()
}
