//! The soil of single rows: log factors on a mesh that is wider than the grid, at twice its step.

use std::sync::LazyLock;

use super::grid::{FACTOR_RANGE, POINTS, step};
use crate::stats::count;

/// Points of the mesh that fall on the grid: every other one of it.
pub(super) const WITHIN: usize = POINTS.div_ceil(2);
/// Points beyond each end of the grid: rows may lie on harder or softer soil than any field.
const BEYOND: usize = 12;
/// A normal curve is cut off this many standard deviations out.
const REACH: f64 = 3.5;

/// Log factors and factors of the mesh, from low to high.
pub(super) static MESH: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let apart = 2.0 * step();
    let first = FACTOR_RANGE.0.ln() - apart * count(BEYOND);
    (0..WITHIN + 2 * BEYOND).map(|i| first + apart * count(i)).map(|x| (x, x.exp())).collect()
});

/// Values on the mesh.
pub(super) type OnMesh = Vec<f64>;

/// How the soil of one row, or of one spot, lies about what is usual.
pub(super) struct Soil {
    /// Weights of the mesh's points around the middle; they sum to 1.
    weights: Vec<f64>,
    /// Points that the middle lies below that of the weights.
    harder: usize,
}

impl Soil {
    /// A normal curve of the log factor around ln `harder`.
    pub(super) fn new(harder: f64, sd: f64) -> Self {
        let apart = 2.0 * step();
        let far = |i: usize| apart * count(i) / sd.max(1e-9);
        let half: Vec<f64> = (0..BEYOND)
            .map(far)
            .take_while(|z| *z <= REACH)
            .map(|z| (-0.5 * z * z).exp())
            .collect();
        let weights: Vec<f64> = half.iter().skip(1).rev().chain(half.iter()).copied().collect();
        let sum: f64 = weights.iter().sum();
        let weights = weights.into_iter().map(|weight| weight / sum).collect();
        let above = (0..BEYOND).take_while(|i| apart * (count(*i) + 0.5) < harder.ln()).count();
        Self { weights, harder: above }
    }

    /// The mean of what is said of single soils, for each point as the usual soil.
    pub(super) fn mean(&self, values: &[f64]) -> OnMesh {
        self.means(&self.padded(values), 0, MESH.len())
    }

    /// The same at the points that fall on the grid.
    pub(super) fn mean_on_grid(&self, values: &[f64]) -> Vec<f64> {
        self.means(&self.padded(values), BEYOND, WITHIN)
    }

    /// Moved by how much harder it is. Beyond its ends the mesh goes on as it ends.
    fn padded(&self, values: &[f64]) -> Vec<f64> {
        let (Some(first), Some(last)) = (values.first(), values.last()) else { return Vec::new() };
        let before = self.weights.len() / 2;
        let all = values.len() + 2 * before;
        let mut long = Vec::with_capacity(all + self.harder);
        long.resize(before.saturating_sub(self.harder), *first);
        long.extend(values.iter().skip(self.harder.saturating_sub(before)));
        long.resize(all, *last);
        long
    }

    fn means(&self, padded: &[f64], from: usize, count: usize) -> Vec<f64> {
        let mean = |near: &[f64]| {
            near.iter().zip(&self.weights).map(|(value, weight)| value * weight).sum()
        };
        padded.windows(self.weights.len()).skip(from).take(count).map(mean).collect()
    }
}

/// What falls on the grid.
pub(super) fn on_grid(values: &[f64]) -> impl Iterator<Item = f64> + '_ {
    values.iter().skip(BEYOND).take(WITHIN).copied()
}

/// Values at every other point of the grid, filled up by cubics through four neighbours.
pub(super) fn filled(values: &[f64]) -> Vec<f64> {
    let mut all = Vec::with_capacity(POINTS);
    let at = |i: usize| values.get(i).copied();
    for (i, own) in values.iter().enumerate() {
        all.push(*own);
        let Some(next) = at(i + 1) else { break };
        let outer = i.checked_sub(1).and_then(at).zip(at(i + 2));
        all.push(match outer {
            Some((before, after)) => (9.0 * (own + next) - before - after) / 16.0,
            None => f64::midpoint(*own, next),
        });
    }
    all
}
