//! The grid on which the logarithm of the resistance factor lives.

use serde::{Deserialize, Serialize};

/// Points of the grid.
pub const POINTS: usize = 97;

/// The least and the greatest resistance factor that is possible: the ends of the opener
/// coefficient times those of the soil-state factor in moist soil, over their likely figures
/// (220 x 0.8 / 500 and 1200 x 1.3 / 500). Nothing that is learned leaves it.
pub const FACTOR_RANGE: (f64, f64) = (0.352, 3.12);

/// The step of the grid, in natural logarithms.
pub(super) fn step() -> f64 {
    (FACTOR_RANGE.1 / FACTOR_RANGE.0).ln() / (crate::stats::count(POINTS) - 1.0)
}

/// The logarithms of the factor at the points of the grid, from low to high.
pub(super) fn points() -> impl Iterator<Item = f64> + Clone {
    let (low, step) = (FACTOR_RANGE.0.ln(), step());
    (0_u32..).map(move |i| low + step * f64::from(i)).take(POINTS)
}

/// A function of the log factor, kept as logarithms at the points of the grid. Its height as a
/// whole means nothing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct LogDensity(Vec<f64>);

/// What lies this far below the top counts as nothing.
const NOTHING: f64 = -600.0;

impl LogDensity {
    /// The same everywhere: says nothing.
    pub fn flat() -> Self {
        Self(vec![0.0; POINTS])
    }

    /// From a function of the log factor.
    pub fn of(height: impl FnMut(f64) -> f64) -> Self {
        Self(points().map(height).collect())
    }

    /// From logarithms, the low end first; what is missing counts as flat.
    pub(super) fn from_heights(heights: impl Iterator<Item = f64>) -> Self {
        let mut all: Vec<f64> = heights.take(POINTS).collect();
        all.resize(POINTS, 0.0);
        Self(all)
    }

    /// A normal curve, cut off at the ends of the grid.
    pub fn normal(mean: f64, sd: f64) -> Self {
        Self::of(|x| -0.5 * ((x - mean) / sd).powi(2))
    }

    /// The logarithms, from the low end to the high end.
    pub fn heights(&self) -> &[f64] {
        &self.0
    }

    /// Takes in what another source says.
    pub fn and(&mut self, other: &Self) {
        for (own, more) in self.0.iter_mut().zip(&other.0) {
            *own += more;
        }
    }

    /// The same with its top at 0.
    #[must_use]
    pub fn levelled(mut self) -> Self {
        let top = self.0.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for height in &mut self.0 {
            *height = (*height - top).max(NOTHING);
        }
        self
    }

    /// Chances of the points; they sum to 1.
    pub fn chances(&self) -> Vec<f64> {
        let top = self.0.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let raw: Vec<f64> = self.0.iter().map(|h| (h - top).exp()).collect();
        let sum: f64 = raw.iter().sum();
        raw.into_iter().map(|w| w / sum).collect()
    }
}

/// How much a child varies around its parent: a normal curve, cut off at the ends of the grid, so
/// that the chances of each parent sum to 1.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Blur {
    /// Heights by distance in grid steps, symmetric.
    weights: Vec<f64>,
    /// 1 / (sum of the weights that fall on the grid), for each point of the parent.
    shares: Vec<f64>,
}

/// A normal curve is cut off this many standard deviations out.
const REACH: f64 = 6.0;

impl Blur {
    pub(super) fn new(sd: f64) -> Self {
        let step = step();
        let weights: Vec<f64> = (0_u32..)
            .map(|i| f64::from(i) * step / sd)
            .take_while(|z| *z <= REACH)
            .take(POINTS)
            .map(|z| (-0.5 * z * z).exp())
            .collect();
        let shares = spread_out(&[1.0; POINTS], &weights).iter().map(|sum| 1.0 / sum).collect();
        Self { weights, shares }
    }

    /// What a child says about its parent.
    pub(super) fn up(&self, child: &LogDensity) -> LogDensity {
        let top = child.0.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let heights: Vec<f64> = child.0.iter().map(|h| (h - top).exp()).collect();
        let summed = spread_out(&heights, &self.weights);
        let log = summed.iter().zip(&self.shares).map(|(sum, share)| floor_ln(sum * share));
        LogDensity(log.collect()).levelled()
    }

    /// What a parent says about its child.
    pub(super) fn down(&self, parent: &LogDensity) -> LogDensity {
        let top = parent.0.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let shared: Vec<f64> =
            parent.0.iter().zip(&self.shares).map(|(h, share)| (h - top).exp() * share).collect();
        let log = spread_out(&shared, &self.weights).iter().map(|sum| floor_ln(*sum)).collect();
        LogDensity(log).levelled()
    }
}

fn floor_ln(x: f64) -> f64 {
    if x > 0.0 { x.ln().max(NOTHING) } else { NOTHING }
}

/// Each height, spread over its neighbours by the weights.
fn spread_out(heights: &[f64], weights: &[f64]) -> Vec<f64> {
    let centre = weights.first().copied().unwrap_or(1.0);
    let mut out: Vec<f64> = heights.iter().map(|h| h * centre).collect();
    for (distance, weight) in weights.iter().enumerate().skip(1) {
        let (Some(ahead), Some(behind)) =
            (heights.get(distance..), heights.get(..heights.len().saturating_sub(distance)))
        else {
            break;
        };
        for (own, far) in out.iter_mut().zip(ahead) {
            *own += weight * far;
        }
        for (own, far) in out.iter_mut().skip(distance).zip(behind) {
            *own += weight * far;
        }
    }
    out
}
