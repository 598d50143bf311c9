//! The plots of a split-plot trial at their places.

use super::super::trial::TrialError;
use super::SplitPlot;
use crate::stats::mean;

/// Means of plots by block, whole and part; `None` where a plot was lost.
pub(super) struct Plan {
    pub blocks: usize,
    pub wholes: usize,
    pub parts: usize,
    values: Vec<Option<f64>>,
}

/// A plot at its place.
#[derive(Clone, Copy)]
pub(super) struct Placed {
    pub block: usize,
    pub whole: usize,
    pub part: usize,
    pub value: f64,
}

impl Plan {
    pub(super) fn of(trial: &SplitPlot) -> Result<Self, TrialError> {
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
        let values: Vec<Option<f64>> =
            values.into_iter().map(|cell| cell.and_then(|(_, mean)| mean)).collect();
        let plan = Self { blocks: blocks.len(), wholes, parts, values };
        plan.checked()
    }

    /// Every part is left somewhere at every level of the whole plots.
    fn checked(self) -> Result<Self, TrialError> {
        let each = (0..self.wholes).flat_map(|w| (0..self.parts).map(move |p| (w, p)));
        let gone = |(whole, part): &(usize, usize)| {
            !self.each().any(|plot| (plot.whole, plot.part) == (*whole, *part))
        };
        match each.clone().find(gone) {
            _ if self.each().next().is_none() => Err(TrialError::NoValues),
            Some((whole, part)) => Err(TrialError::NoneLeft { whole, part }),
            None => Ok(self),
        }
    }

    /// The plots that were measured.
    pub(super) fn each(&self) -> impl Iterator<Item = Placed> {
        let place = |(i, value): (usize, &Option<f64>)| {
            value.map(|value| Placed {
                block: i / (self.wholes * self.parts),
                whole: i / self.parts % self.wholes,
                part: i % self.parts,
                value,
            })
        };
        self.values.iter().enumerate().filter_map(place)
    }

    /// How many were not.
    pub(super) fn lost(&self) -> usize {
        self.values.iter().filter(|v| v.is_none()).count()
    }

    /// Mean over the plots that are kept.
    pub(super) fn mean(&self, keep: impl Fn(&Placed) -> bool) -> f64 {
        let kept: Vec<f64> = self.each().filter(keep).map(|plot| plot.value).collect();
        mean(&kept).unwrap_or(0.0)
    }
}
