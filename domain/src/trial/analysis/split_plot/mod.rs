//! Two factors at once, one on whole plots and one on the parts that they are split into: a setting
//! that needs a strip of its own (speed, down force) with closing wheels side by side within it.
//!
//! The factor of whole plots is repeated less often than that of the parts, so each has an error of
//! its own: mean squares where every part of every whole plot stands in every block, restricted maximum
//! likelihood where some were lost.

mod complete;
#[cfg(test)]
mod laws;
mod lost;
mod plan;
mod words;

use serde::{Deserialize, Serialize};

use self::plan::Plan;
use super::plots::whole;
use super::trial::{Confidence, TrialError};
use crate::stats::{count, squares};

/// A split-plot trial with what was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SplitPlot {
    /// Levels of the factor on whole plots.
    pub wholes: usize,
    /// Levels of the factor on their parts.
    pub parts: usize,
    /// The plots, in any order.
    pub plots: Vec<PartPlot>,
    /// How sure intervals are.
    pub confidence: Confidence,
}

/// One part of a whole plot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PartPlot {
    /// Its block, counted from 0.
    pub block: usize,
    /// Level of the factor on whole plots, counted from 0.
    pub whole: usize,
    /// Level of the factor on parts, counted from 0.
    pub part: usize,
    /// What was measured in it; several samples are averaged.
    pub values: Vec<f64>,
}

/// What a split-plot trial says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SplitPlotAnalysis {
    /// Blocks.
    pub blocks: u32,
    /// Parts of whole plots, of all blocks, that nothing was measured in.
    pub lost: u32,
    /// How sure intervals are.
    pub confidence: Confidence,
    /// The table, of plot means; without squares where parts were lost.
    pub table: Vec<SplitLine>,
    /// Means of the factor on whole plots; where parts were lost, what they would be without the loss.
    pub whole_means: Vec<f64>,
    /// Means of the factor on parts.
    pub part_means: Vec<f64>,
    /// Means of each level of the one with each of the other: a list of parts for each whole.
    pub cell_means: Vec<Vec<f64>>,
    /// The least differences that count as shown, if one comparison were made; where parts were lost,
    /// of the two levels that are the hardest to tell apart.
    pub least_differences: Vec<SplitDifference>,
    /// Whether parts differ alike at every level of the whole plots; `None` without replication or scatter.
    pub parts_differ_alike: Option<bool>,
}

/// A line of the table.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SplitLine {
    /// Where the scatter comes from.
    pub term: SplitTerm,
    /// Sum of squares; `None` where parts were lost, since sources can't be parted by squares then.
    pub squares: Option<f64>,
    /// Degrees of freedom.
    pub df: u32,
    /// Degrees of freedom of its own error; `None` for what is an error itself, or without one.
    pub error_df: Option<f64>,
    /// Ratio to its own error.
    pub f: Option<f64>,
    /// The chance of it without an effect.
    pub p: Option<f64>,
}

/// Where scatter comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SplitTerm {
    /// Between blocks.
    Blocks,
    /// The factor on whole plots.
    Wholes,
    /// From whole plot to whole plot: the error of the factor on whole plots.
    WholePlots,
    /// The factor on parts.
    Parts,
    /// Parts that differ otherwise at another level of the whole plots.
    Together,
    /// From part to part: the error of the last two.
    PartPlots,
    /// From sample to sample within a plot, per sample.
    Samples,
}

/// What is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SplitComparison {
    /// Two levels on whole plots.
    Wholes,
    /// Two levels on parts.
    Parts,
    /// Two parts at one level of the whole plots.
    PartsOfOneWhole,
    /// Two levels of the whole plots at one part; by a weighted t.
    WholesAtOnePart,
}

/// A least difference.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SplitDifference {
    /// What is compared.
    pub of: SplitComparison,
    /// Standard error of the difference.
    pub se: f64,
    /// The least difference that counts as shown.
    pub least: f64,
}

/// Analyses a split-plot trial.
///
/// # Errors
/// When a plot stands twice or holds no number, when none is left of a part at a level of the whole
/// plots, or when the blocks that are left don't hang together.
pub fn split_plot(trial: &SplitPlot) -> Result<SplitPlotAnalysis, TrialError> {
    let plan = Plan::of(trial)?;
    let found = if plan.lost() == 0 {
        complete::work_out(&plan, trial.confidence)
    } else {
        lost::work_out(&plan, trial.confidence)?
    };
    let mut table = found.table;
    table.extend(samples(trial));
    let together = table.iter().find(|l| l.term == SplitTerm::Together).and_then(|l| l.p);
    let (wholes, parts) = (plan.wholes, plan.parts);
    let mean = |w: usize, p: usize| found.cells.get(w * parts + p).copied().unwrap_or(0.0);
    let (every_whole, every_part) = (count(wholes), count(parts));
    Ok(SplitPlotAnalysis {
        blocks: whole(plan.blocks),
        lost: whole(plan.lost()),
        confidence: trial.confidence,
        whole_means: (0..wholes)
            .map(|w| (0..parts).map(|p| mean(w, p)).sum::<f64>() / every_part)
            .collect(),
        part_means: (0..parts)
            .map(|p| (0..wholes).map(|w| mean(w, p)).sum::<f64>() / every_whole)
            .collect(),
        cell_means: (0..wholes).map(|w| (0..parts).map(|p| mean(w, p)).collect()).collect(),
        least_differences: found.least_differences,
        parts_differ_alike: together.map(|p| p >= trial.confidence.alpha()),
        table,
    })
}

/// What either way of working out finds.
struct Found {
    table: Vec<SplitLine>,
    /// Means of each whole, part by part.
    cells: Vec<f64>,
    least_differences: Vec<SplitDifference>,
}

/// Scatter within plots, where plots have samples.
fn samples(trial: &SplitPlot) -> Option<SplitLine> {
    let samples: usize = trial.plots.iter().map(|p| p.values.len().saturating_sub(1)).sum();
    (samples > 0).then(|| SplitLine {
        term: SplitTerm::Samples,
        squares: Some(trial.plots.iter().map(|p| squares(&p.values)).sum()),
        df: whole(samples),
        error_df: None,
        f: None,
        p: None,
    })
}
