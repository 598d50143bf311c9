//! What the plots of a trial would show.

use domain::dig::Closure;
use domain::planter::ClosingPair;

use super::super::dice::Dice;
use super::row::{InUse, Row};
use super::{Ground, Iron};

/// Spots that one looks at for a share of the row.
const SPOTS: u32 = 30;
/// Seeds that one looks for in one count.
const SEEDS: u32 = 40;
/// Share of the seed that comes up under a closed furrow, an open one, and one that was packed: an
/// assumption of this story.
const COMES_UP: (f64, f64, f64) = (0.95, 0.72, 0.88);

/// What somebody finds on some rows at one place.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::demo) struct PlotFound {
    /// Furrow that is closed, %, row by row.
    pub closed: Vec<f64>,
    /// Plants up for the seed, %, row by row.
    pub up: Vec<f64>,
}

/// Looks at some rows behind closing wheels of this kind.
pub(in crate::demo) fn plot(
    (iron, ground): (&Iron, &Ground),
    in_use: &InUse,
    closing: ClosingPair,
    rows: &[u16],
    words: &str,
) -> PlotFound {
    let in_use = InUse { closing, ..*in_use };
    let mut found = PlotFound { closed: Vec::new(), up: Vec::new() };
    for number in rows.iter().copied() {
        let row = Row { iron, ground, in_use: &in_use, number };
        let mut dice = Dice::of(&format!("{words} row {number}"));
        let closed = (0..SPOTS).filter(|_| row.closed(&mut dice) == Closure::Closed).count();
        let up = (0..SEEDS).filter(|_| comes_up(&row, &mut dice)).count();
        found.closed.push(percent(closed, SPOTS));
        found.up.push(percent(up, SEEDS));
    }
    found
}

/// Whether a seed becomes a plant.
pub(super) fn comes_up(row: &Row<'_>, dice: &mut Dice) -> bool {
    let (closed, open, packed) = COMES_UP;
    let chance = match row.closed(dice) {
        Closure::Closed => closed,
        Closure::Open => open,
        Closure::OverPacked => packed,
    };
    dice.happens(chance)
}

fn percent(count: usize, of: u32) -> f64 {
    let count = u32::try_from(count).map_or(0.0, f64::from);
    (count / f64::from(of) * 1000.0).round() / 10.0
}

/// Yield of a strip, bu/ac: the ground changes from block to block and wavers from strip to strip.
pub(in crate::demo) fn strip(
    usual: f64,
    effect: f64,
    (block, plot): (&str, &str),
    words: &str,
) -> f64 {
    let ground = Dice::of(&format!("{words} block {block}")).scatter(9.0);
    let strip = Dice::of(&format!("{words} strip {plot}")).scatter(2.5);
    usual + effect + ground + strip
}
