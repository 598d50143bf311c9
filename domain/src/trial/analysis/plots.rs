//! The plots of a trial, checked, in one order, their samples averaged.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::trial::{DesignKind, Scale, Trial, TrialError};
use crate::stats::{count, mean};

/// A plot that has a value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Known<'a> {
    pub treatment: usize,
    /// Its block; 0 for all where there are none.
    pub block: usize,
    /// The mean of its samples: the value of the plot.
    pub value: f64,
    pub samples: &'a [f64],
}

/// The plots that have a value, by treatment and block, so that the order of entry cannot matter.
pub(super) fn known(trial: &Trial) -> Result<Vec<Known<'_>>, TrialError> {
    check_frame(trial)?;
    let mut seen = BTreeMap::new();
    let mut known = Vec::with_capacity(trial.plots.len());
    for (place, plot) in trial.plots.iter().enumerate() {
        if plot.treatment >= trial.treatments.len() {
            return Err(TrialError::NoSuchTreatment { plot: place, treatment: plot.treatment });
        }
        check_values(trial.response.scale, place, &plot.values)?;
        let Some(value) = mean(&plot.values) else { continue };
        if !value.is_finite() {
            return Err(TrialError::NotANumber { plot: place });
        }
        let block = if trial.design.blocked() {
            if let Some(first) = seen.insert((plot.treatment, plot.block), place) {
                return Err(TrialError::Twice { plot: place, first });
            }
            plot.block
        } else {
            0
        };
        known.push(Known { treatment: plot.treatment, block, value, samples: &plot.values });
    }
    if known.is_empty() {
        return Err(TrialError::NoValues);
    }
    known.sort_by(order);
    Ok(known)
}

/// By treatment, block, value and samples: plots without blocks may have one mean and unlike samples.
fn order(one: &Known<'_>, other: &Known<'_>) -> Ordering {
    let place = |k: &Known<'_>| (k.treatment, k.block);
    let samples = || {
        let pairs = one.samples.iter().zip(other.samples);
        let sizes = one.samples.len().cmp(&other.samples.len());
        pairs.map(|(a, b)| a.total_cmp(b)).fold(sizes, Ordering::then)
    };
    place(one).cmp(&place(other)).then(one.value.total_cmp(&other.value)).then_with(samples)
}

fn check_frame(trial: &Trial) -> Result<(), TrialError> {
    let treatments = trial.treatments.len();
    if treatments < 2 {
        return Err(TrialError::OneTreatment);
    }
    if trial.design == DesignKind::Paired && treatments != 2 {
        return Err(TrialError::NotAPair(treatments));
    }
    if let Some(control) = trial.control.filter(|c| *c >= treatments) {
        return Err(TrialError::NoSuchControl(control));
    }
    match trial.matters {
        Some(least) if !(least > 0.0 && least.is_finite()) => Err(TrialError::NothingMatters),
        _ => Ok(()),
    }
}

fn check_values(scale: Scale, plot: usize, values: &[f64]) -> Result<(), TrialError> {
    // Squares of larger numbers leave the range of numbers.
    if !values.iter().all(|v| v.abs() <= 1e100) {
        return Err(TrialError::NotANumber { plot });
    }
    if scale == Scale::Percent && values.iter().any(|v| !(0.0..=100.0).contains(v)) {
        return Err(TrialError::NoShare { plot });
    }
    Ok(())
}

/// Values of one treatment.
pub(super) fn of_treatment(known: &[Known<'_>], treatment: usize) -> Vec<f64> {
    known.iter().filter(|k| k.treatment == treatment).map(|k| k.value).collect()
}

/// Whether plots were sampled unequally often.
pub(super) fn unequal_samples(known: &[Known<'_>]) -> bool {
    let sizes = known.iter().map(|k| k.samples.len());
    sizes.clone().min() != sizes.max()
}

/// Number of things, as it is shown.
pub(super) fn whole(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// Harmonic mean of the samples of a plot.
pub(super) fn samples_per_plot(known: &[Known<'_>]) -> f64 {
    let inverse: f64 = known.iter().map(|k| 1.0 / count(k.samples.len())).sum();
    count(known.len()) / inverse
}
