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

/// Chances below this count as this: what is that unlikely is not known to that digit.
const NOTHING: f64 = 1e-12;

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

    /// ln of how many times likelier each point is here than in another.
    pub(super) fn over(&self, other: &Self) -> LogDensity {
        let ln = |chance: f64| chance.max(NOTHING).ln();
        let ratio =
            self.chances.iter().zip(&other.chances).map(|(own, other)| ln(*own) - ln(*other));
        LogDensity::from_heights(ratio).levelled()
    }

    /// What is expected, given by the share below a factor, times evidence. Where the two have
    /// nothing in common the evidence stands.
    pub(super) fn weighed(
        expected: impl Fn(f64) -> f64,
        evidence: &LogDensity,
        digs: DigsCounted,
    ) -> Self {
        let mut below = 0.0;
        let last = EDGES.len().saturating_sub(2);
        let raw: Vec<f64> = EDGES
            .iter()
            .skip(1)
            .zip(evidence.heights())
            .enumerate()
            .map(|(step, (edge, height))| {
                // The outer steps stand for all that lies beyond the grid.
                let to = if step == last { 1.0 } else { expected(*edge) };
                let share = (to - below).max(NOTHING);
                below = to;
                share * height.exp()
            })
            .collect();
        let sum: f64 = raw.iter().sum();
        Self::of_chances(raw.into_iter().map(|weight| weight / sum).collect(), digs)
    }

    /// What is expected, given by the share below a factor, without any dig.
    pub(crate) fn expected(below: impl Fn(f64) -> f64) -> Self {
        Self::weighed(below, &LogDensity::flat(), DigsCounted::default())
    }

    /// The steps: from where, to where, with what chance.
    pub(crate) fn steps(&self) -> impl Iterator<Item = (f64, f64, f64)> + '_ {
        let to = EDGES.iter().skip(1);
        EDGES.iter().zip(to).zip(&self.chances).map(|((from, to), chance)| (*from, *to, *chance))
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
