//! Least squares: which sums of effects fit readings best, and how sure they are.

use nalgebra::{DMatrix, DVector};

/// Eigenvalues below this share of the largest are 0: columns of a design are 0, 1 or of that size.
const NOTHING: f64 = 1e-9;

/// A fitted model. Columns may depend on each other: what can be told is told all the same.
#[derive(Debug, Clone, PartialEq)]
pub struct LeastSquares {
    effects: DVector<f64>,
    /// Generalised inverse of the normal equations.
    inverse: DMatrix<f64>,
    /// Projection of a contrast onto what can be told.
    told: DMatrix<f64>,
    residuals: Vec<f64>,
    leverages: Vec<f64>,
    rank: usize,
}

impl LeastSquares {
    /// Fits the columns to the readings; `None` without either, or where lengths differ.
    pub fn of(columns: &[Vec<f64>], readings: &[f64]) -> Option<Self> {
        let n = readings.len();
        if n == 0 || columns.is_empty() || columns.iter().any(|c| c.len() != n) {
            return None;
        }
        let x = DMatrix::from_fn(n, columns.len(), |row, column| {
            columns.get(column).and_then(|c| c.get(row)).copied().unwrap_or(0.0)
        });
        let y = DVector::from_column_slice(readings);
        let normal = x.tr_mul(&x);
        let eigen = normal.symmetric_eigen();
        let largest = eigen.eigenvalues.amax();
        let real = |value: f64| value > NOTHING * largest;
        let rank = eigen.eigenvalues.iter().filter(|v| real(**v)).count();
        let vectors = &eigen.eigenvectors;
        let scaled = |by: fn(f64) -> f64| {
            let scale = eigen.eigenvalues.map(|v| if real(v) { by(v) } else { 0.0 });
            vectors * DMatrix::from_diagonal(&scale) * vectors.transpose()
        };
        let (inverse, told) = (scaled(|v| 1.0 / v), scaled(|_| 1.0));
        let effects = &inverse * x.tr_mul(&y);
        let residuals = y - &x * &effects;
        let spread = &x * &inverse;
        let leverages = spread.row_iter().zip(x.row_iter()).map(|(a, b)| a.dot(&b)).collect();
        let residuals = residuals.iter().copied().collect();
        Some(Self { effects, inverse, told, residuals, leverages, rank })
    }

    /// What is left of each reading.
    pub fn residuals(&self) -> &[f64] {
        &self.residuals
    }

    /// How much each reading pulls its own fitted value, 0 to 1.
    pub fn leverages(&self) -> &[f64] {
        &self.leverages
    }

    /// Sum of the squares of what is left.
    pub fn squares(&self) -> f64 {
        self.residuals.iter().map(|r| r * r).sum()
    }

    /// Columns that do not depend on others.
    pub fn rank(&self) -> usize {
        self.rank
    }

    /// A weighted sum of effects; `None` where the readings can't tell it.
    pub fn sum(&self, weights: &[f64]) -> Option<f64> {
        Some(self.told(weights)?.dot(&self.effects))
    }

    /// The covariance of two weighted sums, in units of the error variance; `None` where the readings
    /// can't tell one of them.
    pub fn covariance(&self, one: &[f64], other: &[f64]) -> Option<f64> {
        let (one, other) = (self.told(one)?, self.told(other)?);
        Some(one.dot(&(&self.inverse * other)))
    }

    fn told(&self, weights: &[f64]) -> Option<DVector<f64>> {
        if weights.len() != self.effects.len() {
            return None;
        }
        let weights = DVector::from_column_slice(weights);
        let projected = &self.told * &weights;
        ((projected - &weights).amax() < 1e-6 * weights.amax().max(1e-300)).then_some(weights)
    }
}
