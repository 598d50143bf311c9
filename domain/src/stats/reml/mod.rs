//! Restricted maximum likelihood: readings whose scatter has several sources, also where plots were
//! lost (Patterson and Thompson 1971, Biometrika 58:545-554).
//!
//! A reading is a sum of fixed effects, of one random effect for each grouping, and of what is left.
//! No variance falls below 0. Where nothing is lost and none would, they are those of the mean squares.

mod likelihood;
mod wald;

use nalgebra::{DMatrix, DVector};

use self::likelihood::{LEAST_LEFT, Likelihood};
use super::{LeastSquares, count};

pub use wald::WaldTest;

/// Rounds of scoring at most; a sound trial needs about ten.
const ROUNDS: usize = 200;
/// A round that raises the logarithm of the likelihood by less than this is the last.
const STILL: f64 = 1e-13;
/// How often a step is halved that leads downhill or to variances that can't be.
const HALVINGS: usize = 60;

/// A fitted model.
#[derive(Debug, Clone, PartialEq)]
pub struct Reml {
    /// Variance of each grouping, then of what is left.
    variances: Vec<f64>,
    effects: DVector<f64>,
    /// Covariance of the effects.
    covariance: DMatrix<f64>,
    /// How that covariance changes with each variance.
    slopes: Vec<DMatrix<f64>>,
    /// Covariance of the variances themselves.
    doubt: DMatrix<f64>,
}

impl Reml {
    /// Fits fixed columns and random groupings (for each reading the number of its group) to the
    /// readings.
    ///
    /// `None` where lengths differ, where columns depend on each other, where a grouping says nothing
    /// that the columns or another grouping don't say, or where nothing is left to judge scatter by: no
    /// readings, or less than a three-thousandth of the scatter of the groupings, which is rounding.
    pub fn of(columns: &[Vec<f64>], groupings: &[Vec<usize>], readings: &[f64]) -> Option<Self> {
        let fixed = LeastSquares::of(columns, readings)?;
        let left = readings.len().checked_sub(columns.len()).filter(|left| *left > 0)?;
        if fixed.rank() < columns.len() || groupings.iter().any(|g| g.len() != readings.len()) {
            return None;
        }
        let parts = groupings.len() + 1;
        let size = fixed.squares() / count(left);
        if size <= 0.0 {
            return None;
        }
        let scale = size.sqrt();
        let readings: Vec<f64> = readings.iter().map(|y| y / scale).collect();
        let likelihood = Likelihood::new(columns, groupings, &readings);
        let mut at = likelihood.at(&DVector::from_element(parts, 1.0 / count(parts)))?;
        for _ in 0..ROUNDS {
            let step = at.step()?;
            let Some(next) = uphill(&likelihood, &at, step) else { break };
            let gained = next.value - at.value;
            at = next;
            if gained < STILL {
                break;
            }
        }
        if at.left() < 10.0 * LEAST_LEFT {
            return None;
        }
        let doubt = at.information().try_inverse()? * size.powi(2);
        Some(Self {
            variances: at.variances.iter().map(|v| v * size).collect(),
            slopes: at.slopes(),
            effects: &at.effects * scale,
            covariance: &at.covariance * size,
            doubt,
        })
    }

    /// Variance of each grouping in the order given, then of what is left.
    pub fn variances(&self) -> &[f64] {
        &self.variances
    }

    /// A weighted sum of effects; `None` where the number of weights is not theirs.
    pub fn sum(&self, weights: &[f64]) -> Option<f64> {
        Some(self.weights(weights)?.dot(&self.effects))
    }

    fn weights(&self, weights: &[f64]) -> Option<DVector<f64>> {
        (weights.len() == self.effects.len()).then(|| DVector::from_column_slice(weights))
    }
}

/// The point reached by as much of a step as raises the likelihood; `None` where nothing does.
fn uphill<'a>(
    likelihood: &'a Likelihood,
    from: &likelihood::Point<'a>,
    mut step: DVector<f64>,
) -> Option<likelihood::Point<'a>> {
    for _ in 0..HALVINGS {
        let variances = (&from.variances + &step).map(|variance| variance.max(0.0));
        if let Some(next) = likelihood.at(&variances)
            && next.value > from.value
        {
            return Some(next);
        }
        step /= 2.0;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::Reml;

    fn of_two_groups(readings: [f64; 6]) -> Vec<f64> {
        let fit = Reml::of(&[vec![1.0; 6]], &[vec![0, 0, 0, 1, 1, 1]], &readings);
        fit.expect("a fit").variances().to_vec()
    }

    /// Mean squares by hand: 54 between, 1 within, three readings a group.
    #[test]
    fn groups_that_lie_apart_have_the_variances_of_the_mean_squares() {
        let found = of_two_groups([1.0, 2.0, 3.0, 7.0, 8.0, 9.0]);
        assert!((found[0] - (54.0 - 1.0) / 3.0).abs() < 1e-6, "{found:?}");
        assert!((found[1] - 1.0).abs() < 1e-6, "{found:?}");
    }

    /// Mean squares would say -1/3 between groups of one mean. At 0, all five degrees of freedom judge the rest.
    #[test]
    fn groups_of_one_mean_have_no_variance_below_zero() {
        let found = of_two_groups([1.0, 2.0, 3.0, 3.0, 2.0, 1.0]);
        assert!(found[0].abs() < f64::EPSILON, "{found:?}");
        assert!((found[1] - 4.0 / 5.0).abs() < 1e-6, "{found:?}");
    }
}
