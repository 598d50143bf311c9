//! What is known about the resistance factor of a field.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::grid::{FACTOR_RANGE, LogDensity, points, step};
use super::learned::DigsCounted;
use crate::stats::Range;

/// What is known about the resistance factor of a field, for the next pass there.
///
/// Each point of the grid stands for the step around it; the outer half steps are cut off, so that
/// no factor lies outside the range.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Posterior {
    chances: Vec<f64>,
    /// Shares below the edges of the steps: from 0 to 1.
    sums: Vec<f64>,
    /// Digs behind it.
    pub digs: DigsCounted,
}

/// Factors at the edges of the steps.
static EDGES: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let half = step() / 2.0;
    let edge = |x: f64| x.exp().clamp(FACTOR_RANGE.0, FACTOR_RANGE.1);
    points().map(|x| edge(x - half)).chain(std::iter::once(FACTOR_RANGE.1)).collect()
});

impl Posterior {
    pub(super) fn new(density: &LogDensity, digs: DigsCounted) -> Self {
        Self::of_chances(density.chances(), digs)
    }

    pub(super) fn of_chances(chances: Vec<f64>, digs: DigsCounted) -> Self {
        let mut sums = Vec::with_capacity(chances.len() + 1);
        let mut sum = 0.0;
        sums.push(sum);
        for chance in &chances {
            sum += chance;
            sums.push(sum);
        }
        Self { chances, sums, digs }
    }

    /// Share below a factor.
    pub fn below(&self, factor: f64) -> f64 {
        let at = EDGES.partition_point(|edge| *edge <= factor);
        let Some(before) = at.checked_sub(1) else { return 0.0 };
        let pair = |list: &[f64]| Some((*list.get(before)?, *list.get(at)?));
        match (pair(&EDGES), pair(&self.sums)) {
            (Some((low, high)), Some((from, to))) => {
                from + (to - from) * (factor - low) / (high - low)
            }
            _ => 1.0,
        }
    }

    /// The factor below which a share `p` lies.
    pub fn quantile(&self, p: f64) -> f64 {
        let at = self.sums.partition_point(|sum| *sum <= p).max(1);
        let pair = |list: &[f64]| Some((*list.get(at - 1)?, *list.get(at)?));
        match (pair(&EDGES), pair(&self.sums)) {
            (Some((low, high)), Some((from, to))) if to > from => {
                low + (high - low) * ((p - from) / (to - from)).clamp(0.0, 1.0)
            }
            _ => FACTOR_RANGE.1,
        }
    }

    /// Low (5 %), middle and high (95 %) factor.
    pub fn range(&self) -> Range {
        Range::new(self.quantile(0.05), self.quantile(0.5), self.quantile(0.95))
    }

    /// Standard deviation of the log factor: about the share by which it may be off.
    pub fn sd(&self) -> f64 {
        let mean: f64 = points().zip(&self.chances).map(|(x, c)| x * c).sum();
        points().zip(&self.chances).map(|(x, c)| (x - mean).powi(2) * c).sum::<f64>().sqrt()
    }

    /// Factors with their chances, from low to high.
    pub fn factors(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        points().map(f64::exp).zip(self.chances.iter().copied())
    }
}
