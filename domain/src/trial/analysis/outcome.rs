//! What comes out of an analysis.
//!
//! A figure that can't be told is `None`: never a number that looks like one. Treatments are named
//! by their place in the list of the trial.

use serde::{Deserialize, Serialize};

use super::checks::Check;
use super::trial::{Confidence, DesignKind};
use super::verdict::Verdict;

/// What a trial says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Analysis {
    /// The design that it was analysed by.
    pub design: DesignKind,
    /// How sure the intervals are.
    pub confidence: Confidence,
    /// What the trial rests on.
    pub rests_on: RestsOn,
    /// Treatment by treatment, in the order of the list.
    pub means: Vec<TreatmentMean>,
    /// The table of analysis, of plot means. Empty when no plot has a value.
    pub table: Vec<Line>,
    /// Standard deviation from plot to plot that neither treatment nor block explains; `None`
    /// without replication.
    pub residual_sd: Option<f64>,
    /// The same in percent of the mean of all plots; `None` where that says nothing.
    pub cv_percent: Option<f64>,
    /// How the effects were held against each other.
    pub comparison: Comparison,
    /// Differences between treatments.
    pub effects: Vec<Effect>,
    /// The least difference of two means that counts as shown, if only one comparison were made
    /// (LSD); plots in all blocks. `None` without replication or where plots are missing.
    pub least_difference: Option<f64>,
    /// The same when all pairs are compared (HSD); with more than two treatments.
    pub honest_difference: Option<f64>,
    /// How many times the replications one would need without the blocks; `None` where plots
    /// are missing or there are no blocks.
    pub relative_efficiency: Option<f64>,
    /// Where the scatter comes from; `None` unless plots were sampled more than once.
    pub components: Option<ScatterParts>,
    /// Of paired trials: the pairs themselves.
    pub pairs: Option<Pairs>,
    /// Whether what the analysis takes for granted holds.
    pub checks: Vec<Check>,
    /// What can be concluded and what can't.
    pub verdict: Verdict,
}

/// What a trial rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct RestsOn {
    /// Plots that have a value.
    pub plots: u32,
    /// Plots of the design that have none.
    pub missing: u32,
    /// Blocks that help to compare treatments: those with two plots at least. 0 without blocks.
    pub blocks: u32,
    /// Values in all: digs, counts, rows.
    pub values: u32,
    /// Degrees of freedom of the error: how often the comparison was repeated, less what was
    /// worked out from it. Below 1 nothing can be said about chance.
    pub error_df: u32,
    /// Whether plots were sampled unequally often. Their means count alike all the same.
    pub unequal_samples: bool,
    /// Whether all treatments can be compared through the blocks that are left.
    pub connected: bool,
}

/// One treatment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TreatmentMean {
    /// The treatment.
    pub treatment: usize,
    /// Its plots that have a value.
    pub plots: u32,
    /// Plain mean of its plots; `None` without any.
    pub plain: Option<f64>,
    /// Mean as if it had stood in every block (least squares); the plain one where nothing is missing.
    pub adjusted: Option<f64>,
    /// Standard error of the adjusted mean; `None` without replication.
    pub se: Option<f64>,
    /// Low limit.
    pub low: Option<f64>,
    /// High limit.
    pub high: Option<f64>,
}

/// A line of the table of analysis, of plot means.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Where the scatter comes from.
    pub term: Term,
    /// Sum of squares.
    pub squares: f64,
    /// Degrees of freedom.
    pub df: u32,
    /// Mean square; `None` without degrees of freedom.
    pub mean_square: Option<f64>,
    /// Ratio to the mean square of the plots: the only one that a verdict rests on.
    pub f: Option<f64>,
    /// The chance of such a ratio without an effect.
    pub p: Option<f64>,
}

/// Where scatter comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Term {
    /// Between blocks (pairs, passes); before treatments are looked at.
    Blocks,
    /// Between treatments, blocks taken out.
    Treatments,
    /// From plot to plot: the error.
    Plots,
    /// All plots about their mean.
    Total,
    /// From sample to sample within a plot, per sample. No test of treatments rests on it.
    Samples,
}

/// How effects were held against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Comparison {
    /// Two treatments: Student's t.
    StudentT,
    /// Several against a control: Dunnett.
    Dunnett,
    /// All pairs: Tukey and Kramer.
    TukeyKramer,
}

/// A difference between two treatments.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Effect {
    /// The treatment.
    pub treatment: usize,
    /// What it is held against.
    pub against: usize,
    /// Its adjusted mean less that of the other.
    pub difference: f64,
    /// The same in percent of the other's mean; `None` where that is not above 0.
    pub percent: Option<f64>,
    /// Its standard error; `None` without replication.
    pub se: Option<f64>,
    /// Low limit, held for the number of comparisons.
    pub low: Option<f64>,
    /// High limit.
    pub high: Option<f64>,
    /// The difference over its standard error; `None` where nothing varies.
    pub t: Option<f64>,
    /// The chance of such a difference without an effect, held for the number of comparisons.
    pub p: Option<f64>,
    /// What it means.
    pub reading: Reading,
}

/// What a difference means, by its interval and the smallest difference that matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reading {
    /// Shown, and large enough to matter all through the interval.
    Matters,
    /// Shown; it may be too small to matter. Also where nobody said what would matter.
    Shown,
    /// Too small to matter, whether it is there or not: the whole interval says so.
    TooSmall,
    /// Not shown. It may be there and matter.
    CantTell,
    /// Without replication nothing can be said about chance.
    NoReplication,
}

/// Where the scatter of plot means comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ScatterParts {
    /// Variance from plot to plot, never negative.
    pub plots: f64,
    /// Whether it came out negative and was set to 0.
    pub set_to_zero: bool,
    /// Variance from sample to sample within a plot.
    pub samples: f64,
    /// Degrees of freedom of the variance within plots.
    pub samples_df: u32,
    /// Samples of a plot (harmonic mean).
    pub per_plot: f64,
}

/// The pairs of a paired trial.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pairs {
    /// Pairs that are whole.
    pub pairs: u32,
    /// Pairs of which the first treatment of the effect did more than the other.
    pub more: u32,
    /// Standard deviation of the differences; `None` with one pair.
    pub sd: Option<f64>,
    /// Signed-rank test, exact: the smaller sum of ranks and the chance of it; without pairs that
    /// are alike.
    pub signed_rank: Option<Exact>,
    /// All ways in which the signs could have fallen, exact: the sum of the differences and the
    /// chance of one as large; up to 30 pairs.
    pub sign_flip: Option<Exact>,
}

/// An exact test.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Exact {
    /// What was looked at.
    pub statistic: f64,
    /// The chance of it without an effect, two-sided.
    pub p: f64,
}
