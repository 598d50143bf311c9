//! Two factors at once, one on whole plots and one on the parts that they are split into: a setting
//! that needs a strip of its own (speed, down force) with closing wheels side by side within it.
//!
//! The factor of whole plots is repeated less often than that of the parts, so each has an error of
//! its own. Only complete trials: every part of every whole plot in every block.

use serde::{Deserialize, Serialize};

use super::plots::whole;
use super::say::{capital, chance};
use super::trial::{Confidence, TrialError};
use crate::stats::{count, f_tail, mean, squares, t_critical};

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
    /// How sure intervals are.
    pub confidence: Confidence,
    /// The table, of plot means.
    pub table: Vec<SplitLine>,
    /// Means of the factor on whole plots.
    pub whole_means: Vec<f64>,
    /// Means of the factor on parts.
    pub part_means: Vec<f64>,
    /// Means of each level of the one with each of the other: a list of parts for each whole.
    pub cell_means: Vec<Vec<f64>>,
    /// The least differences that count as shown, if one comparison were made.
    pub least_differences: Vec<SplitDifference>,
    /// Whether parts differ alike at every level of the whole plots; `None` without replication.
    pub parts_differ_alike: Option<bool>,
}

impl SplitPlotAnalysis {
    /// What can be concluded and what can't, in plain words; `whole` and `part` name the factors.
    pub fn words(&self, whole: &str, part: &str) -> Vec<String> {
        let chance_of = |term| self.table.iter().find(|l| l.term == term).and_then(|l| l.p);
        let told = |name: &str, p: Option<f64>| match p {
            Some(p) if p < self.confidence.alpha() => {
                format!(
                    "{}: levels differ. Without an effect chance alone does as much {}.",
                    capital(name),
                    chance(p)
                )
            }
            Some(p) => {
                format!(
                    "{}: no difference shown; there may be one all the same. Chance alone does as much {}.",
                    capital(name),
                    chance(p)
                )
            }
            None => {
                format!("{}: nothing can be said about chance without replication.", capital(name))
            }
        };
        let mut words = vec![
            told(whole, chance_of(SplitTerm::Wholes)),
            told(part, chance_of(SplitTerm::Parts)),
        ];
        words.extend(self.parts_differ_alike.map(|alike| {
            if alike {
                format!("No sign that {part} works otherwise at another level of {whole}: the means over all levels tell the story.")
            } else {
                format!("What {part} does depends on {whole}: compare its levels at each level of {whole}, not over all.")
            }
        }));
        let blocks = self.blocks;
        words.push(format!(
            "{} was repeated {blocks} times only, so it is the less sure of the two.",
            capital(whole)
        ));
        words.push(
            "Nothing is said about other fields and other years: this was one trial.".to_owned(),
        );
        words
    }
}

/// A line of the table.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SplitLine {
    /// Where the scatter comes from.
    pub term: SplitTerm,
    /// Sum of squares.
    pub squares: f64,
    /// Degrees of freedom.
    pub df: u32,
    /// Ratio to the mean square of its own error.
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

/// Means of plots by block, whole and part.
struct Cells {
    blocks: usize,
    wholes: usize,
    parts: usize,
    values: Vec<f64>,
}

impl Cells {
    /// Mean over the plots that are kept.
    fn mean(&self, keep: impl Fn(usize, usize, usize) -> bool) -> f64 {
        let kept: Vec<f64> =
            self.each().filter(|(at, _)| keep(at.0, at.1, at.2)).map(|(_, v)| v).collect();
        mean(&kept).unwrap_or(0.0)
    }

    fn each(&self) -> impl Iterator<Item = ((usize, usize, usize), f64)> {
        let place = |i: usize| {
            (i / (self.wholes * self.parts), i / self.parts % self.wholes, i % self.parts)
        };
        self.values.iter().enumerate().map(move |(i, v)| (place(i), *v))
    }
}

/// Analyses a split-plot trial.
///
/// # Errors
/// When a plot is missing, stands twice, or holds no number.
pub fn split_plot(trial: &SplitPlot) -> Result<SplitPlotAnalysis, TrialError> {
    let cells = cells(trial)?;
    let table = table(trial, &cells);
    let together = table.iter().find(|l| l.term == SplitTerm::Together).and_then(|l| l.p);
    Ok(SplitPlotAnalysis {
        blocks: whole(cells.blocks),
        confidence: trial.confidence,
        whole_means: (0..cells.wholes).map(|w| cells.mean(|_, x, _| x == w)).collect(),
        part_means: (0..cells.parts).map(|p| cells.mean(|_, _, x| x == p)).collect(),
        cell_means: (0..cells.wholes)
            .map(|w| (0..cells.parts).map(|p| cells.mean(|_, x, y| (x, y) == (w, p))).collect())
            .collect(),
        least_differences: least_differences(trial, &cells, &table),
        parts_differ_alike: together.map(|p| p >= trial.confidence.alpha()),
        table,
    })
}

fn cells(trial: &SplitPlot) -> Result<Cells, TrialError> {
    let (wholes, parts) = (trial.wholes, trial.parts);
    if wholes < 2 || parts < 2 {
        return Err(TrialError::OneTreatment);
    }
    let mut blocks: Vec<usize> = trial.plots.iter().map(|p| p.block).collect();
    blocks.sort_unstable();
    blocks.dedup();
    let mut values = vec![None; blocks.len() * wholes * parts];
    for (place, plot) in trial.plots.iter().enumerate() {
        if plot.whole >= wholes || plot.part >= parts {
            let treatment = plot.whole.max(plot.part);
            return Err(TrialError::NoSuchTreatment { plot: place, treatment });
        }
        let block = blocks.iter().position(|b| *b == plot.block).unwrap_or(0);
        let at = (block * wholes + plot.whole) * parts + plot.part;
        if !plot.values.iter().all(|v| v.abs() <= 1e100) {
            return Err(TrialError::NotANumber { plot: place });
        }
        let Some(cell) = values.get_mut(at) else { return Err(TrialError::NoValues) };
        if let Some((first, _)) = cell.replace((place, mean(&plot.values))) {
            return Err(TrialError::Twice { plot: place, first });
        }
    }
    let found: Option<Vec<f64>> =
        values.into_iter().map(|cell| cell.and_then(|(_, m)| m)).collect();
    match found {
        Some(values) if !values.is_empty() => {
            Ok(Cells { blocks: blocks.len(), wholes, parts, values })
        }
        Some(_) => Err(TrialError::NoValues),
        None => Err(TrialError::NotComplete),
    }
}

fn table(trial: &SplitPlot, cells: &Cells) -> Vec<SplitLine> {
    let all = cells.mean(|_, _, _| true);
    let sum = |of: &dyn Fn(usize, usize, usize) -> f64| -> f64 {
        cells.each().map(|((b, w, p), _)| of(b, w, p).powi(2)).sum()
    };
    let block: Vec<f64> = (0..cells.blocks).map(|b| cells.mean(|x, _, _| x == b)).collect();
    let whole_means: Vec<f64> = (0..cells.wholes).map(|w| cells.mean(|_, x, _| x == w)).collect();
    let part: Vec<f64> = (0..cells.parts).map(|p| cells.mean(|_, _, x| x == p)).collect();
    let at = |list: &[f64], i: usize| list.get(i).copied().unwrap_or(0.0);
    let of_plot = |b: usize, w: usize| cells.mean(|x, y, _| (x, y) == (b, w));
    let of_cell = |w: usize, p: usize| cells.mean(|_, x, y| (x, y) == (w, p));
    let blocks = sum(&|b, _, _| at(&block, b) - all);
    let wholes = sum(&|_, w, _| at(&whole_means, w) - all);
    let whole_plots = sum(&|b, w, _| of_plot(b, w) - at(&block, b) - at(&whole_means, w) + all);
    let parts = sum(&|_, _, p| at(&part, p) - all);
    let together = sum(&|_, w, p| of_cell(w, p) - at(&whole_means, w) - at(&part, p) + all);
    let left = |((b, w, p), value): ((usize, usize, usize), f64)| {
        (value - of_plot(b, w) - of_cell(w, p) + at(&whole_means, w)).powi(2)
    };
    let part_plots = cells.each().map(left).sum();
    let (n, k, m) = (cells.blocks - 1, cells.wholes - 1, cells.parts - 1);
    let whole_error = (whole_plots, n * k);
    let part_error = (part_plots, cells.wholes * n * m);
    let mut lines = vec![
        line(SplitTerm::Blocks, (blocks, n), Some(whole_error)),
        line(SplitTerm::Wholes, (wholes, k), Some(whole_error)),
        line(SplitTerm::WholePlots, whole_error, None),
        line(SplitTerm::Parts, (parts, m), Some(part_error)),
        line(SplitTerm::Together, (together, k * m), Some(part_error)),
        line(SplitTerm::PartPlots, part_error, None),
    ];
    let samples: usize = trial.plots.iter().map(|p| p.values.len() - 1).sum();
    if samples > 0 {
        let within = trial.plots.iter().map(|p| squares(&p.values)).sum();
        lines.push(line(SplitTerm::Samples, (within, samples), None));
    }
    lines
}

fn line(term: SplitTerm, own: (f64, usize), error: Option<(f64, usize)>) -> SplitLine {
    let square = |(sum, df): (f64, usize)| (df > 0).then(|| sum / count(df));
    let noise = error.and_then(square).filter(|e| *e > 0.0);
    let f = square(own).zip(noise).map(|(own, noise)| own / noise);
    let p = f.zip(error).and_then(|(f, (_, df))| f_tail(f, count(own.1), count(df)));
    SplitLine { term, squares: own.0, df: whole(own.1), f, p }
}

fn least_differences(
    trial: &SplitPlot,
    cells: &Cells,
    table: &[SplitLine],
) -> Vec<SplitDifference> {
    let error = |term| {
        let line = table.iter().find(|l| l.term == term)?;
        let df = f64::from(line.df);
        Some((line.squares / df, t_critical(trial.confidence.alpha(), df)?))
    };
    let (Some((large, large_t)), Some((small, small_t))) =
        (error(SplitTerm::WholePlots), error(SplitTerm::PartPlots))
    else {
        return Vec::new();
    };
    let (blocks, wholes, parts) = (count(cells.blocks), count(cells.wholes), count(cells.parts));
    let mixed = (parts - 1.0) * small + large;
    let weighted = ((parts - 1.0) * small * small_t + large * large_t) / mixed;
    let made = |of, variance: f64, t: f64| {
        let se = (2.0 * variance).sqrt();
        let least = t * se;
        least.is_finite().then_some(SplitDifference { of, se, least })
    };
    let all = [
        made(SplitComparison::Wholes, large / (blocks * parts), large_t),
        made(SplitComparison::Parts, small / (blocks * wholes), small_t),
        made(SplitComparison::PartsOfOneWhole, small / blocks, small_t),
        made(SplitComparison::WholesAtOnePart, mixed / (blocks * parts), weighted),
    ];
    all.into_iter().flatten().collect()
}
