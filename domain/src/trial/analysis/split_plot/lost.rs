//! Parts were lost: plot = block + whole and part + scatter of whole plots + scatter of parts, by
//! restricted maximum likelihood.
//!
//! With nothing lost this gives what the mean squares give, unless whole plots scatter less than their parts
//! alone would make them: a law of the tests.

use std::iter;

use super::super::plots::whole;
use super::super::trial::{Confidence, TrialError};
use super::plan::{Placed, Plan};
use super::{Found, SplitComparison, SplitDifference, SplitLine, SplitTerm};
use crate::stats::{LeastSquares, Reml, count, t_critical};

pub(super) fn work_out(plan: &Plan, confidence: Confidence) -> Result<Found, TrialError> {
    let model = Model::of(plan).ok_or(TrialError::NotJoined)?;
    let fit = model.fit();
    let cells = match &fit {
        Some(fit) => model.cells().map(|cell| fit.sum(&cell).map(|m| m + model.origin)).collect(),
        None => {
            model.cells().map(|cell| model.fixed.sum(&cell).map(|m| m + model.origin)).collect()
        }
    };
    let cells: Option<Vec<f64>> = cells;
    Ok(Found {
        cells: cells.ok_or(TrialError::NotJoined)?,
        table: model.table(fit.as_ref()),
        least_differences: fit.map_or_else(Vec::new, |fit| model.least(&fit, confidence)),
    })
}

/// The effects are those of all blocks but the first, from their mean, then the means of all cells.
struct Model<'a> {
    plan: &'a Plan,
    /// A value that all others are measured from: it keeps digits that they share.
    origin: f64,
    columns: Vec<Vec<f64>>,
    /// The whole plot that each plot is a part of.
    whole_plots: Vec<usize>,
    readings: Vec<f64>,
    /// The effects as if there were no whole plots.
    fixed: LeastSquares,
    /// Degrees of freedom from whole plot to whole plot.
    whole_df: usize,
    /// Degrees of freedom from part to part.
    part_df: usize,
    /// Whether both scatter by more than rounding does.
    scatters: bool,
}

impl<'a> Model<'a> {
    /// `None` where blocks don't hang together, so that cells can't be told from blocks.
    fn of(plan: &'a Plan) -> Option<Self> {
        let plots: Vec<Placed> = plan.each().collect();
        let origin = plots.first()?.value;
        let readings: Vec<f64> = plots.iter().map(|it| it.value - origin).collect();
        let column = |of: &dyn Fn(&Placed) -> f64| plots.iter().map(of).collect::<Vec<f64>>();
        let mut columns: Vec<Vec<f64>> = (1..plan.blocks)
            .map(|b| column(&|it| one_if(it.block == b) - one_if(it.block == 0)))
            .collect();
        for w in 0..plan.wholes {
            for p in 0..plan.parts {
                columns.push(column(&|it| one_if((it.whole, it.part) == (w, p))));
            }
        }
        let whole_plots: Vec<usize> =
            plots.iter().map(|it| it.block * plan.wholes + it.whole).collect();
        let of_whole_plots = (0..plan.blocks * plan.wholes)
            .map(|plot| whole_plots.iter().map(|own| one_if(*own == plot)).collect::<Vec<f64>>());
        let fixed = LeastSquares::of(&columns, &readings)?;
        let every: Vec<Vec<f64>> = columns.iter().cloned().chain(of_whole_plots).collect();
        let every = LeastSquares::of(&every, &readings)?;
        if fixed.rank() < columns.len() {
            return None;
        }
        let far = readings.iter().map(|y| y.abs()).fold(0.0, f64::max);
        let size = plots.iter().map(|it| it.value.abs()).fold(0.0, f64::max);
        let rounding = count(plots.len()) * (1e-10 * far + 8.0 * f64::EPSILON * size).powi(2);
        Some(Self {
            plan,
            origin,
            whole_df: every.rank() - fixed.rank(),
            part_df: readings.len() - every.rank(),
            scatters: every.squares() > rounding && fixed.squares() - every.squares() > rounding,
            columns,
            whole_plots,
            readings,
            fixed,
        })
    }

    /// `None` without two errors to judge by.
    fn fit(&self) -> Option<Reml> {
        let sound = self.scatters && self.whole_df > 0 && self.part_df > 0;
        let groupings = [self.whole_plots.clone()];
        sound.then(|| Reml::of(&self.columns, &groupings, &self.readings)).flatten()
    }

    fn table(&self, fit: Option<&Reml>) -> Vec<SplitLine> {
        let (blocks, wholes, parts) = (self.plan.blocks, self.plan.wholes, self.plan.parts);
        let error = |term, df| SplitLine {
            term,
            squares: None,
            df: whole(df),
            error_df: None,
            f: None,
            p: None,
        };
        let tested = |term, df: usize, sums: Vec<Vec<f64>>| {
            let found = fit.filter(|_| df > 0).and_then(|fit| fit.test(&sums));
            SplitLine {
                error_df: found.map(|t| t.error_df),
                f: found.map(|t| t.f),
                p: found.and_then(|t| t.p),
                ..error(term, df)
            }
        };
        let own_block = |b: usize| self.weights(iter::once((b, 1.0)));
        let of_blocks: Vec<Vec<f64>> = (0..blocks - 1).map(own_block).collect();
        let together = (1..wholes).flat_map(|w| (1..parts).map(move |p| (w, p)));
        let together = together.map(|(w, p)| {
            let four = [((w, p), 1.0), ((w, 0), -1.0), ((0, p), -1.0), ((0, 0), 1.0)];
            self.weights(four.into_iter().map(|((w, p), by)| (self.cell(w, p), by)))
        });
        vec![
            tested(SplitTerm::Blocks, blocks - 1, of_blocks),
            tested(SplitTerm::Wholes, wholes - 1, (1..wholes).map(|w| self.wholes(w, 0)).collect()),
            error(SplitTerm::WholePlots, self.whole_df),
            tested(SplitTerm::Parts, parts - 1, (1..parts).map(|p| self.parts(p, 0)).collect()),
            tested(SplitTerm::Together, (wholes - 1) * (parts - 1), together.collect()),
            error(SplitTerm::PartPlots, self.part_df),
        ]
    }

    fn least(&self, fit: &Reml, confidence: Confidence) -> Vec<SplitDifference> {
        let (wholes, parts) = (self.plan.wholes, self.plan.parts);
        let hardest = |of, differences: Vec<Vec<f64>>| {
            let each = differences.iter().map(|weights| {
                let (se, df) = fit.standard_error(weights)?;
                Some(SplitDifference { of, se, least: se * t_critical(confidence.alpha(), df)? })
            });
            let each: Vec<SplitDifference> = each.collect::<Option<_>>()?;
            each.into_iter().max_by(|a, b| a.least.total_cmp(&b.least))
        };
        let within = |w: usize, (one, other): (usize, usize)| {
            self.weights([(self.cell(w, one), 1.0), (self.cell(w, other), -1.0)].into_iter())
        };
        let across = |p: usize, (one, other): (usize, usize)| {
            self.weights([(self.cell(one, p), 1.0), (self.cell(other, p), -1.0)].into_iter())
        };
        let all = [
            hardest(
                SplitComparison::Wholes,
                pairs(wholes).map(|(a, b)| self.wholes(a, b)).collect(),
            ),
            hardest(SplitComparison::Parts, pairs(parts).map(|(a, b)| self.parts(a, b)).collect()),
            hardest(
                SplitComparison::PartsOfOneWhole,
                (0..wholes).flat_map(|w| pairs(parts).map(move |two| within(w, two))).collect(),
            ),
            hardest(
                SplitComparison::WholesAtOnePart,
                (0..parts).flat_map(|p| pairs(wholes).map(move |two| across(p, two))).collect(),
            ),
        ];
        all.into_iter().flatten().collect()
    }

    /// Place of a cell among the effects.
    fn cell(&self, whole: usize, part: usize) -> usize {
        self.plan.blocks - 1 + whole * self.plan.parts + part
    }

    /// The weights of each cell.
    fn cells(&self) -> impl Iterator<Item = Vec<f64>> {
        (self.plan.blocks - 1..self.columns.len()).map(|at| self.weights(iter::once((at, 1.0))))
    }

    /// One level on whole plots less another, over all parts.
    fn wholes(&self, one: usize, other: usize) -> Vec<f64> {
        let share = 1.0 / count(self.plan.parts);
        let each = (0..self.plan.parts)
            .flat_map(|p| [(self.cell(one, p), share), (self.cell(other, p), -share)]);
        self.weights(each)
    }

    /// One level on parts less another, over all whole plots.
    fn parts(&self, one: usize, other: usize) -> Vec<f64> {
        let share = 1.0 / count(self.plan.wholes);
        let each = (0..self.plan.wholes)
            .flat_map(|w| [(self.cell(w, one), share), (self.cell(w, other), -share)]);
        self.weights(each)
    }

    fn weights(&self, each: impl Iterator<Item = (usize, f64)>) -> Vec<f64> {
        let mut weights = vec![0.0; self.columns.len()];
        for (at, by) in each {
            if let Some(weight) = weights.get_mut(at) {
                *weight += by;
            }
        }
        weights
    }
}

/// Every two of them.
fn pairs(number: usize) -> impl Iterator<Item = (usize, usize)> + Clone {
    (0..number).flat_map(move |one| (one + 1..number).map(move |other| (one, other)))
}

fn one_if(it: bool) -> f64 {
    if it { 1.0 } else { 0.0 }
}
