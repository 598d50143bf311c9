//! Plot = block + treatment + error, by least squares; also where plots are missing.
//!
//! Blocks are taken out first: values and treatments are measured from the mean of their block. What
//! is left is a model of treatments alone, however many blocks there are.

use std::collections::BTreeMap;

use super::plots::Known;
use crate::stats::{LeastSquares, count, mean, squares};

/// The fitted model.
#[derive(Debug, Clone)]
pub(super) struct Model<'a> {
    /// Plots that help to compare treatments: those that share their block with another one.
    pub plots: Vec<Known<'a>>,
    /// Number of treatments in the list of the trial.
    treatments: usize,
    blocks: Vec<Block>,
    /// For each plot the place of its block.
    block_of: Vec<usize>,
    /// A value that all others are measured from: it keeps digits that they share.
    origin: f64,
    fit: LeastSquares,
    /// Sum of squares of all plots about their mean.
    pub total: f64,
    /// Sum of squares within blocks.
    pub within_blocks: f64,
}

/// A block as a whole.
#[derive(Debug, Clone)]
struct Block {
    plots: f64,
    /// Mean of its plots, from the origin.
    mean: f64,
    /// Which part of it each treatment has.
    shares: Vec<f64>,
}

impl Block {
    fn of(plots: &[Known<'_>], treatments: usize, origin: f64) -> Option<Self> {
        let all = count(plots.len());
        let own = |t: usize| count(plots.iter().filter(|p| p.treatment == t).count()) / all;
        Some(Self {
            plots: all,
            mean: mean(&plots.iter().map(|p| p.value - origin).collect::<Vec<f64>>())?,
            shares: (0..treatments).map(own).collect(),
        })
    }
}

impl<'a> Model<'a> {
    /// `None` when no two plots share a block.
    pub(super) fn of(known: &[Known<'a>], treatments: usize) -> Option<Self> {
        let mut by_block: BTreeMap<usize, Vec<Known<'a>>> = BTreeMap::new();
        for plot in known {
            by_block.entry(plot.block).or_default().push(*plot);
        }
        by_block.retain(|_, plots| plots.len() > 1);
        let plots: Vec<Known<'a>> = by_block.values().flatten().copied().collect();
        let origin = plots.first()?.value;
        let blocks: Vec<Block> = by_block
            .values()
            .map(|plots| Block::of(plots, treatments, origin))
            .collect::<Option<_>>()?;
        let repeated = by_block.values().enumerate();
        let block_of: Vec<usize> =
            repeated.flat_map(|(at, plots)| plots.iter().map(move |_| at)).collect();
        let placed = || plots.iter().zip(block_of.iter().filter_map(|at| blocks.get(*at)));
        let readings: Vec<f64> = placed().map(|(p, b)| p.value - origin - b.mean).collect();
        let column = |treatment: usize| -> Vec<f64> {
            let share = |b: &Block| b.shares.get(treatment).copied().unwrap_or(0.0);
            placed().map(|(p, b)| one_if(p.treatment == treatment) - share(b)).collect()
        };
        let columns: Vec<Vec<f64>> = (0..treatments).map(column).collect();
        let fit = LeastSquares::of(&columns, &readings)?;
        let shifted: Vec<f64> = plots.iter().map(|p| p.value - origin).collect();
        Some(Self {
            treatments,
            origin,
            total: squares(&shifted),
            within_blocks: readings.iter().map(|r| r * r).sum(),
            fit,
            blocks,
            block_of,
            plots,
        })
    }

    /// Blocks that help; 1 where there are none.
    pub(super) fn blocks(&self) -> usize {
        self.blocks.len()
    }

    /// Degrees of freedom of the error.
    pub(super) fn error_df(&self) -> usize {
        self.plots.len() - self.blocks.len() - self.fit.rank()
    }

    /// Degrees of freedom of treatments.
    pub(super) fn treatment_df(&self) -> usize {
        self.fit.rank()
    }

    /// Sum of squares of the error; 0 where it is only rounding.
    pub(super) fn error_squares(&self) -> f64 {
        let left = self.fit.squares();
        if left > self.rounding() { left } else { 0.0 }
    }

    /// What rounding alone leaves of squares.
    fn rounding(&self) -> f64 {
        let far = self.plots.iter().map(|p| (p.value - self.origin).abs()).fold(0.0, f64::max);
        let size = self.plots.iter().map(|p| p.value.abs()).fold(0.0, f64::max);
        count(self.plots.len()) * (1e-12 * far + 8.0 * f64::EPSILON * size).powi(2)
    }

    /// Mean square of the error; `None` without degrees of freedom.
    pub(super) fn error_variance(&self) -> Option<f64> {
        let df = self.error_df();
        (df > 0).then(|| self.error_squares() / count(df))
    }

    /// What a treatment gives more than another one; `None` where the plots can't tell.
    pub(super) fn difference(&self, treatment: usize, against: usize) -> Option<f64> {
        self.fit.sum(&self.contrast(treatment, against))
    }

    /// Covariance of two differences in units of the error variance.
    pub(super) fn covariance(&self, one: (usize, usize), other: (usize, usize)) -> Option<f64> {
        self.fit.covariance(&self.contrast(one.0, one.1), &self.contrast(other.0, other.1))
    }

    /// The mean of a treatment had it stood in every block, and its variance in units of that of the
    /// error.
    pub(super) fn mean(&self, treatment: usize) -> Option<(f64, f64)> {
        let all = count(self.blocks.len());
        let centre = self.blocks.iter().map(|b| b.mean).sum::<f64>() / all;
        let unsure = self.blocks.iter().map(|b| 1.0 / b.plots).sum::<f64>() / (all * all);
        let usual =
            |t: usize| self.blocks.iter().filter_map(|b| b.shares.get(t)).sum::<f64>() / all;
        let weights: Vec<f64> =
            (0..self.treatments).map(|t| one_if(t == treatment) - usual(t)).collect();
        let mean = self.origin + centre + self.fit.sum(&weights)?;
        Some((mean, unsure + self.fit.covariance(&weights, &weights)?))
    }

    /// Whether every treatment can be held against every other.
    pub(super) fn connected(&self) -> bool {
        (1..self.treatments).all(|t| self.difference(t, 0).is_some())
    }

    /// Whether each treatment stands once in each block.
    pub(super) fn complete(&self) -> bool {
        self.plots.len() == self.blocks.len() * self.treatments && self.connected()
    }

    /// What is left of each plot, in the order of `plots`.
    pub(super) fn residuals(&self) -> &[f64] {
        self.fit.residuals()
    }

    /// The pull of each plot on its own fitted value.
    pub(super) fn leverages(&self) -> Vec<f64> {
        let of_block = self.block_of.iter().filter_map(|at| self.blocks.get(*at));
        of_block.zip(self.fit.leverages()).map(|(b, own)| 1.0 / b.plots + own).collect()
    }

    /// The part of its block and of its treatment in each plot, each about its mean; for complete
    /// blocks.
    pub(super) fn parts(&self) -> Vec<(f64, f64)> {
        let centre = self.blocks.iter().map(|b| b.mean).sum::<f64>() / count(self.blocks.len());
        let means: Vec<f64> = (0..self.treatments)
            .map(|t| self.mean(t).map_or(0.0, |(mean, _)| mean - self.origin - centre))
            .collect();
        let of_block = self.block_of.iter().filter_map(|at| self.blocks.get(*at));
        self.plots
            .iter()
            .zip(of_block)
            .map(|(p, b)| (b.mean - centre, means.get(p.treatment).copied().unwrap_or(0.0)))
            .collect()
    }

    fn contrast(&self, treatment: usize, against: usize) -> Vec<f64> {
        (0..self.treatments).map(|t| one_if(t == treatment) - one_if(t == against)).collect()
    }
}

fn one_if(yes: bool) -> f64 {
    if yes { 1.0 } else { 0.0 }
}
