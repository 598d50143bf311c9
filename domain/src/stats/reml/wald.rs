//! Whether weighted sums of effects differ from 0, and how sure that is.

use nalgebra::{DMatrix, DVector};

use super::Reml;
use crate::stats::{count, f_tail};

/// A direction that counts for less than this of the largest tells nothing.
const NOTHING: f64 = 1e-9;

/// Several sums tested at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaldTest {
    /// Mean square of the sums, in units of their own variance.
    pub f: f64,
    /// Sums that do not depend on each other.
    pub df: u32,
    /// Degrees of freedom of the variance that they are measured by: about, since several variances
    /// go into it (Satterthwaite 1946, Biometrics Bulletin 2:110-114; for several sums Fai and
    /// Cornelius 1996, J. Stat. Comput. Simul. 54:363-378).
    pub error_df: f64,
    /// The chance of it without an effect; `None` below one degree of freedom.
    pub p: Option<f64>,
}

impl Reml {
    /// The standard error of a weighted sum and its degrees of freedom; `None` where the number of
    /// weights is not that of the effects or the sum does not scatter.
    pub fn standard_error(&self, weights: &[f64]) -> Option<(f64, f64)> {
        let weights = self.weights(weights)?;
        let variance = weights.dot(&(&self.covariance * &weights));
        (variance > 0.0).then(|| (variance.sqrt(), self.error_df(&weights, variance)))
    }

    /// Tests whether all of the weighted sums are 0; `None` where none of them scatters.
    pub fn test(&self, sums: &[Vec<f64>]) -> Option<WaldTest> {
        let sums: Vec<DVector<f64>> =
            sums.iter().map(|s| self.weights(s)).collect::<Option<_>>()?;
        let sums = DMatrix::from_columns(&sums);
        let eigen = (sums.tr_mul(&self.covariance) * &sums).symmetric_eigen();
        let largest = eigen.eigenvalues.amax();
        let turned = &sums * &eigen.eigenvectors;
        let apart: Vec<(f64, f64)> = turned
            .column_iter()
            .zip(&eigen.eigenvalues)
            .filter(|(_, variance)| **variance > NOTHING * largest)
            .map(|(weights, variance)| {
                let weights = weights.into_owned();
                let square = weights.dot(&self.effects).powi(2) / variance;
                (square, self.error_df(&weights, *variance))
            })
            .collect();
        let df = u32::try_from(apart.len()).ok().filter(|df| *df > 0)?;
        let f = apart.iter().map(|(square, _)| square).sum::<f64>() / f64::from(df);
        let error_df = together(&apart.iter().map(|(_, df)| *df).collect::<Vec<f64>>())?;
        Some(WaldTest { f, df, error_df, p: f_tail(f, f64::from(df), error_df) })
    }

    fn error_df(&self, weights: &DVector<f64>, variance: f64) -> f64 {
        let steep = self.slopes.iter().map(|slope| weights.dot(&(slope * weights)));
        let steep = DVector::from_iterator(self.slopes.len(), steep);
        2.0 * variance.powi(2) / steep.dot(&(&self.doubt * &steep))
    }
}

/// The degrees of freedom of several sums together, from those of each.
fn together(each: &[f64]) -> Option<f64> {
    let least = each.iter().copied().reduce(f64::min)?;
    let most = each.iter().copied().reduce(f64::max)?;
    if most - least <= 1e-8 * most {
        return Some(least);
    }
    if least <= 2.0 {
        return Some(2.0_f64.min(least));
    }
    let expected: f64 = each.iter().map(|df| df / (df - 2.0)).sum();
    Some(2.0 * expected / (expected - count(each.len())))
}
