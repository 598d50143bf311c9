//! How far rows and seeds lie apart: what is usual, pooled with what digs showed.

use serde::{Deserialize, Serialize};

use super::super::statistics::DepthStatistics;
use crate::provenance::{Coefficients, Mark};
use crate::quantity::{Length, Measured};
use crate::stats::{count, sd, t_critical};

const INCH: f64 = 0.0254;

/// Standard deviations to plan a dig with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spreads {
    /// From row to row.
    pub between: Length,
    /// From seed to seed within a row.
    pub within: Length,
    /// Digs that they rest on besides what is usual.
    pub digs: u32,
    /// How they are known.
    pub mark: Mark,
}

/// What one dig showed of the spread, as variances in m².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpreadSeen {
    /// Between rows; an estimate that came out negative stays negative, so that pooling is fair.
    between: f64,
    between_df: f64,
    within: f64,
    within_df: f64,
}

/// A row with what was measured on it.
#[derive(Debug, Clone, Copy)]
pub(in crate::dig) struct RowSeen {
    /// Mean depth in m.
    pub mean: f64,
    /// Standard deviation in m; none with a single seed.
    pub sd: Option<f64>,
    /// Seeds.
    pub seeds: f64,
}

impl SpreadSeen {
    /// From the two standard deviations that were found on `rows` rows with `seeds` seeds in all.
    /// `None` with less than two rows, or not more seeds than rows.
    pub fn new(between: Length, within: Length, rows: u32, seeds: u32) -> Option<Self> {
        (rows >= 2 && seeds > rows).then(|| Self {
            between: between.si().powi(2),
            between_df: f64::from(rows) - 1.0,
            within: within.si().powi(2),
            within_df: f64::from(seeds) - f64::from(rows),
        })
    }

    /// From the rows of a dig that speak for the planter; `None` with less than two of them.
    pub fn of(depth: &DepthStatistics, k: &Coefficients) -> Option<Self> {
        Self::of_rows(&rows_seen(depth), k)
    }

    pub(in crate::dig) fn of_rows(rows: &[RowSeen], k: &Coefficients) -> Option<Self> {
        let means: Vec<f64> = rows.iter().map(|r| r.mean).collect();
        let of_means = sd(&means)?.powi(2);
        let squares: f64 = rows.iter().filter_map(|r| r.sd.map(|s| s * s * (r.seeds - 1.0))).sum();
        let within_df: f64 = rows.iter().map(|r| r.seeds - 1.0).sum();
        let found = if within_df >= 1.0 { squares / within_df } else { usual_within(k).powi(2) };
        // Readings that agree to the last digit are not known better than the ruler reads.
        let within = found.max((k.ruler_step.value * INCH).powi(2) / 12.0);
        Some(Self {
            between: of_means - within / seeds_of_a_row(rows),
            between_df: count(means.len()) - 1.0,
            within,
            within_df,
        })
    }
}

impl Spreads {
    /// Spreads that are known, whatever digs show.
    pub const fn known(between: Length, within: Length) -> Self {
        Self { between, within, digs: 0, mark: Mark::Measured }
    }

    /// What is usual on a sound planter, pooled with what digs showed. Each counts by its degrees
    /// of freedom; what is usual counts as the coefficient `usual_spread_worth` says.
    pub fn pooled(seen: &[SpreadSeen], k: &Coefficients) -> Self {
        let worth = k.usual_spread_worth.value;
        let pool = |usual: f64, parts: &mut dyn Iterator<Item = (f64, f64)>| {
            let (sum, df) = parts.fold((usual * worth, worth), |(sum, df), (variance, more)| {
                (sum + variance * more, df + more)
            });
            Length::from_si((sum / df).max(0.0).sqrt())
        };
        let between = (k.row_spread.value * INCH).powi(2);
        let usual = k.row_spread.mark.max(k.depth_sd_good.mark);
        Self {
            between: pool(between, &mut seen.iter().map(|s| (s.between, s.between_df))),
            within: pool(
                usual_within(k).powi(2),
                &mut seen.iter().map(|s| (s.within, s.within_df)),
            ),
            digs: u32::try_from(seen.len()).unwrap_or(u32::MAX),
            mark: if seen.is_empty() { usual } else { Mark::Learned },
        }
    }

    /// Standard deviation of the mean of a row with `seeds` seeds: sqrt(`s_b`² + `s_w`² / n).
    pub fn of_a_row(&self, seeds: f64) -> f64 {
        (self.between.si().powi(2) + self.within.si().powi(2) / seeds.max(1.0)).sqrt()
    }

    /// Half the width that the interval of the mean will likely have; `None` with one row.
    pub fn half_width(&self, rows: u16, seeds: u16, confidence: f64) -> Option<Length> {
        let rows = f64::from(rows);
        let t = t_critical(1.0 - confidence, rows - 1.0)?;
        Some(Length::from_si(t * self.of_a_row(f64::from(seeds)) / rows.sqrt()))
    }
}

/// The rows that speak for the planter.
pub(super) fn rows_seen(depth: &DepthStatistics) -> Vec<RowSeen> {
    depth
        .rows
        .iter()
        .filter(|r| depth.set_aside.iter().all(|aside| aside.row != r.row))
        .map(|r| RowSeen {
            mean: r.mean.si(),
            sd: r.sd.map(Measured::si),
            seeds: f64::from(r.seeds),
        })
        .collect()
}

/// The harmonic mean: the seeds per row at which even rows would be known as well.
pub(in crate::dig) fn seeds_of_a_row(rows: &[RowSeen]) -> f64 {
    let turned: f64 = rows.iter().map(|r| 1.0 / r.seeds.max(1.0)).sum();
    if turned > 0.0 { count(rows.len()) / turned } else { 1.0 }
}

fn usual_within(k: &Coefficients) -> f64 {
    k.depth_sd_good.value * INCH
}
