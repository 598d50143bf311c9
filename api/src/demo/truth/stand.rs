//! What somebody would count after emergence.

use super::super::dice::Dice;
use super::row::{InUse, Row};
use super::trial::comes_up;
use super::{Ground, Iron};

/// Late plants under a furrow that stayed open or was packed are a matter of luck; this share of all
/// plants comes late: an assumption of this story.
const LATE: f64 = 0.06;

/// Plants of one row in a stretch of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::demo) struct Stretch {
    /// Plants that are up.
    pub plants: u32,
    /// How many of them came late.
    pub late: u32,
}

/// Counts plants where so many seeds were dropped.
pub(in crate::demo) fn stand(
    (iron, ground): (&Iron, &Ground),
    in_use: &InUse,
    (number, seeds): (u16, u32),
    words: &str,
) -> Stretch {
    let row = Row { iron, ground, in_use, number };
    let mut dice = Dice::of(words);
    let mut found = Stretch { plants: 0, late: 0 };
    for _ in 0..seeds {
        if comes_up(&row, &mut dice) {
            found.plants += 1;
            found.late += u32::from(dice.happens(LATE));
        }
    }
    found
}
