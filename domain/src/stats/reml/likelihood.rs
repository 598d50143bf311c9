//! The logarithm of the restricted likelihood at given variances, how steep it is, and what it tells.

use nalgebra::{DMatrix, DVector};

/// What is left scatters at least by this share of all variances: below it, rounding decides what the readings say.
pub(super) const LEAST_LEFT: f64 = 1e-8;

/// What stays the same whatever the variances are.
#[derive(Debug)]
pub(super) struct Likelihood {
    columns: DMatrix<f64>,
    /// For each grouping, and last for what is left, the group of each reading.
    groups: Vec<Groups>,
    readings: DVector<f64>,
}

/// Which readings belong together.
#[derive(Debug)]
struct Groups {
    of: Vec<usize>,
    number: usize,
}

impl Groups {
    /// Sums of the rows of each group.
    fn sum_rows(&self, of: &DMatrix<f64>) -> DMatrix<f64> {
        let mut sums = DMatrix::zeros(self.number, of.ncols());
        for (group, row) in self.of.iter().zip(of.row_iter()) {
            let mut sum = sums.row_mut(*group);
            sum += row;
        }
        sums
    }

    /// Sums of both the rows and the columns of each group.
    fn sum_both(&self, other: &Self, of: &DMatrix<f64>) -> DMatrix<f64> {
        other.sum_rows(&self.sum_rows(of).transpose())
    }
}

impl Likelihood {
    /// Columns, groupings and readings of one length.
    pub(super) fn new(columns: &[Vec<f64>], groupings: &[Vec<usize>], readings: &[f64]) -> Self {
        let own: Vec<usize> = (0..readings.len()).collect();
        let groups = groupings.iter().chain([&own]).map(|of| {
            let number = of.iter().max().map_or(0, |most| most + 1);
            Groups { of: of.clone(), number }
        });
        Self {
            columns: DMatrix::from_fn(readings.len(), columns.len(), |row, column| {
                columns.get(column).and_then(|c| c.get(row)).copied().unwrap_or(0.0)
            }),
            groups: groups.collect(),
            readings: DVector::from_column_slice(readings),
        }
    }

    /// `None` where no readings could scatter like this, or rounding would decide.
    pub(super) fn at(&self, variances: &DVector<f64>) -> Option<Point<'_>> {
        if share_left(variances) < LEAST_LEFT {
            return None;
        }
        let size = self.readings.len();
        let scatter = DMatrix::from_fn(size, size, |row, column| {
            let together = |g: &&Groups| g.of.get(row) == g.of.get(column);
            let shared = self.groups.iter().zip(variances).filter(|(g, _)| together(g));
            shared.map(|(_, variance)| variance).sum()
        });
        let of_scatter = scatter.cholesky()?;
        let weighed = of_scatter.solve(&self.columns);
        let of_normal = self.columns.tr_mul(&weighed).cholesky()?;
        let covariance = of_normal.inverse();
        let effects = &covariance * weighed.tr_mul(&self.readings);
        let kept = of_scatter.inverse() - &weighed * &covariance * weighed.transpose();
        let pulled = &kept * &self.readings;
        let logs = |of: &nalgebra::Cholesky<f64, nalgebra::Dyn>| -> f64 {
            of.l_dirty().diagonal().iter().map(|d| d.ln()).sum()
        };
        let value = -logs(&of_scatter) - logs(&of_normal) - 0.5 * self.readings.dot(&pulled);
        value.is_finite().then(|| Point {
            variances: variances.clone(),
            value,
            effects,
            covariance,
            weighed,
            kept,
            pulled,
            of: self,
        })
    }
}

/// A point of the likelihood.
#[derive(Debug)]
pub(super) struct Point<'a> {
    of: &'a Likelihood,
    pub(super) variances: DVector<f64>,
    /// The logarithm of the likelihood, but for a constant.
    pub(super) value: f64,
    pub(super) effects: DVector<f64>,
    pub(super) covariance: DMatrix<f64>,
    /// The inverse of the scatter times the columns.
    weighed: DMatrix<f64>,
    /// The inverse of the scatter with the columns taken out.
    kept: DMatrix<f64>,
    /// That times the readings.
    pulled: DVector<f64>,
}

/// The share of what is left, the last of the variances.
fn share_left(variances: &DVector<f64>) -> f64 {
    variances.iter().next_back().map_or(0.0, |left| left / variances.sum())
}

impl Point<'_> {
    /// The share of what is left in all variances.
    pub(super) fn left(&self) -> f64 {
        share_left(&self.variances)
    }

    /// How steep it is towards each variance.
    fn score(&self) -> DVector<f64> {
        let pulled = DMatrix::from_column_slice(self.pulled.len(), 1, self.pulled.as_slice());
        let of = |groups: &Groups| {
            let found = groups.sum_rows(&pulled).norm_squared();
            0.5 * (found - groups.sum_both(groups, &self.kept).trace())
        };
        DVector::from_iterator(self.variances.len(), self.of.groups.iter().map(of))
    }

    /// What the readings are expected to tell about each pair of variances; its inverse is their
    /// covariance.
    pub(super) fn information(&self) -> DMatrix<f64> {
        let groups = &self.of.groups;
        DMatrix::from_fn(groups.len(), groups.len(), |one, other| {
            let pair = groups.get(one).zip(groups.get(other));
            pair.map_or(0.0, |(one, other)| 0.5 * one.sum_both(other, &self.kept).norm_squared())
        })
    }

    /// The step of scoring; a variance that is 0 and would fall stays where it is. `None` where the
    /// readings can't tell the variances apart.
    pub(super) fn step(&self) -> Option<DVector<f64>> {
        let (mut score, mut information) = (self.score(), self.information());
        for (at, variance) in self.variances.iter().enumerate() {
            if *variance <= 0.0 && score.get(at).is_some_and(|steep| *steep <= 0.0) {
                information.row_mut(at).fill(0.0);
                information.column_mut(at).fill(0.0);
                information.view_mut((at, at), (1, 1)).fill(1.0);
                score.rows_mut(at, 1).fill(0.0);
            }
        }
        Some(information.cholesky()?.solve(&score))
    }

    /// How the covariance of the effects changes with each variance.
    pub(super) fn slopes(&self) -> Vec<DMatrix<f64>> {
        let of = |groups: &Groups| {
            let sums = groups.sum_rows(&self.weighed) * &self.covariance;
            sums.tr_mul(&sums)
        };
        self.of.groups.iter().map(of).collect()
    }
}
