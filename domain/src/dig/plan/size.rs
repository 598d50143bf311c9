//! How many rows, and how many seeds on each.
//!
//! The mean of k rows with n seeds each varies by `s_b`² / k + `s_w`² / (k n). A row costs as much
//! work as `c` seeds, so k (c + n) is the work; at a given spread of the mean it is least with
//! n = sqrt(c) `s_w` / `s_b` seeds on a row. Then as many rows as the width asks for, and of those
//! numbers of seeds that do the least one.

use super::spreads::{RowSeen, Spreads};
use crate::provenance::Coefficients;
use crate::quantity::{Length, Measured};
use crate::stats::{chi_square_below, squares, t_critical, units_needed_by};

/// How wide the interval of the mean may be.
#[derive(Debug, Clone, Copy)]
pub(in crate::dig) struct Asked {
    /// Half the width.
    pub half_width: Length,
    /// How sure the interval is, 0 to 1.
    pub confidence: f64,
}

/// How much to dig.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Size {
    /// Rows.
    pub rows: u16,
    /// Seeds on each.
    pub seeds: u16,
    /// Seeds on a row at the least work, before anything is rounded.
    pub seeds_at_least_work: f64,
    /// Rows that the width asks for; none where all rows of the planter do not do.
    pub rows_needed: Option<u16>,
    /// Half the width that the interval will likely have; none with one row.
    pub half_width: Option<Length>,
    /// Chance that the interval is no wider than asked; none with one row.
    pub chance: Option<f64>,
    /// Whether the likely width is no more than asked.
    pub reaches: bool,
}

pub(super) fn size(spreads: &Spreads, asked: Asked, on_planter: u16, k: &Coefficients) -> Size {
    let at_least_work = seeds_at_least_work(spreads, k);
    let one_row = spreads.of_a_row(at_least_work);
    let needed = rows_within(one_row, asked, SoFar::default(), on_planter);
    let rows = needed.unwrap_or(on_planter).max(whole(k.dig_rows_least.value)).min(on_planter);
    let reaches = |seeds: &u16| {
        let half = spreads.half_width(rows, *seeds, asked.confidence);
        half.is_some_and(|h| h <= asked.half_width * (1.0 + 1e-9))
    };
    let (least, most) = (whole(k.dig_seeds_least.value), whole(k.dig_seeds_most.value));
    let fewest = (least..=most).find(reaches);
    let seeds = fewest.unwrap_or(most);
    Size {
        rows,
        seeds,
        seeds_at_least_work: at_least_work,
        rows_needed: needed,
        half_width: spreads.half_width(rows, seeds, asked.confidence),
        chance: chance(spreads, asked, rows, seeds),
        reaches: fewest.is_some(),
    }
}

/// Rows that are dug already.
#[derive(Debug, Clone, Copy, Default)]
pub(in crate::dig) struct SoFar {
    rows: u16,
    /// Sum of the squared distances of their means from the mean of those, in m².
    squares: f64,
}

impl SoFar {
    pub(in crate::dig) fn of(rows: &[RowSeen]) -> Self {
        let means: Vec<f64> = rows.iter().map(|r| r.mean).collect();
        Self { rows: u16::try_from(rows.len()).unwrap_or(u16::MAX), squares: squares(&means) }
    }

    /// The standard deviation that the means of `rows` rows will likely have: what is dug counts as
    /// it is, each further row as `one_row`.
    pub(super) fn likely_sd(self, rows: u32, one_row: f64) -> f64 {
        let further = f64::from(rows) - f64::from(self.rows.max(1));
        ((self.squares + further * one_row.powi(2)) / (f64::from(rows) - 1.0)).sqrt()
    }

    /// Half the width that the interval of the mean of `rows` rows will likely have.
    pub(super) fn half_width(self, rows: u16, one_row: f64, confidence: f64) -> Option<Length> {
        let t = t_critical(1.0 - confidence, f64::from(rows) - 1.0)?;
        let sd = self.likely_sd(u32::from(rows), one_row);
        Some(Length::from_si(t * sd / f64::from(rows).sqrt()))
    }
}

/// Rows in all that make the interval no wider than asked, up to `most`, where the mean of a row has
/// the standard deviation `one_row`. The one place where rows are counted: before a dig and after.
pub(in crate::dig) fn rows_within(
    one_row: f64,
    asked: Asked,
    so_far: SoFar,
    most: u16,
) -> Option<u16> {
    let among = u32::from(so_far.rows.saturating_add(1).max(2))..=u32::from(most);
    let rows = units_needed_by(1.0 - asked.confidence, asked.half_width.si(), among, |rows| {
        so_far.likely_sd(rows, one_row)
    });
    u16::try_from(rows?).ok()
}

fn seeds_at_least_work(spreads: &Spreads, k: &Coefficients) -> f64 {
    let (between, within) = (spreads.between.si(), spreads.within.si());
    let (least, most) =
        (k.dig_seeds_least.value, k.dig_seeds_most.value.max(k.dig_seeds_least.value));
    let ideal = k.dig_row_work.value.max(0.0).sqrt() * within / between;
    // Without any spread the quotient is not a number: the least will do.
    if ideal.is_nan() { least } else { ideal.clamp(least, most) }
}

/// The spread that a dig finds varies: (k - 1) s² / sigma² is chi-square with k - 1 degrees.
fn chance(spreads: &Spreads, asked: Asked, rows: u16, seeds: u16) -> Option<f64> {
    let df = f64::from(rows) - 1.0;
    let t = t_critical(1.0 - asked.confidence, df)?;
    let allowed = asked.half_width.si() * f64::from(rows).sqrt() / t;
    let one_row = spreads.of_a_row(f64::from(seeds));
    if one_row <= 0.0 {
        return Some(1.0);
    }
    chi_square_below(df * (allowed / one_row).powi(2), df)
}

/// A count that stands in the table of coefficients, up to the next whole number.
pub(super) fn whole(figure: f64) -> u16 {
    const MOST: u16 = 200;
    (1..MOST).find(|n| f64::from(*n) + 1e-9 >= figure).unwrap_or(MOST)
}
