//! How many replications a trial needs for the difference that is wanted.
//!
//! Power is that of the test that the analysis will make: noncentral t, against the critical value of
//! Student's t for two treatments, of Dunnett for several against a control, of Tukey for all pairs.

use serde::{Deserialize, Serialize};

use super::analysis::{Confidence, DesignKind, Trial};
use crate::stats::{Dunnett, effect_for_power, studentized_critical, t_critical, t_power};

/// The power that is usual: the difference shows in four trials of five.
pub const USUAL_POWER: f64 = 0.8;

/// A trial that is planned.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Planned {
    /// How treatments will be put on the ground.
    pub design: DesignKind,
    /// Treatments, the control among them.
    pub treatments: u32,
    /// Whether the others are held against a control, and not all pairs against each other.
    pub control: bool,
    /// How sure intervals will be.
    pub confidence: Confidence,
}

impl Planned {
    /// The plan of a trial that was made.
    pub fn of(trial: &Trial) -> Self {
        Self {
            design: trial.design,
            treatments: u32::try_from(trial.treatments.len()).unwrap_or(u32::MAX),
            control: trial.control.is_some(),
            confidence: trial.confidence,
        }
    }

    /// Degrees of freedom of the error with so many replications (pairs, passes, blocks, or plots of
    /// each treatment).
    pub fn error_df(&self, replications: u32) -> f64 {
        let (n, treatments) = (f64::from(replications), f64::from(self.treatments));
        if self.design.blocked() { (n - 1.0) * (treatments - 1.0) } else { (n - 1.0) * treatments }
    }

    /// How many standard errors a difference must reach; `None` without replication or with fewer
    /// than two treatments.
    pub fn critical(&self, replications: u32) -> Option<f64> {
        let (alpha, df) = (self.confidence.alpha(), self.error_df(replications));
        match self.treatments {
            0 | 1 => None,
            2 => t_critical(alpha, df),
            k if self.control => {
                let others = usize::try_from(k - 1).ok()?;
                Dunnett::of(&vec![0.5_f64.sqrt(); others], df)?.critical(alpha)
            }
            k => Some(studentized_critical(alpha, k, df)? / std::f64::consts::SQRT_2),
        }
    }

    /// The chance that a true difference of two means shows; `sd` is the standard deviation from plot
    /// to plot within a block.
    ///
    /// `None` without replication, or unless `sd` is above 0.
    pub fn power(&self, replications: u32, difference: f64, sd: f64) -> Option<f64> {
        if !(sd > 0.0 && sd.is_finite() && difference.is_finite()) {
            return None;
        }
        let effect = difference / standard_error(replications, sd);
        t_power(effect, self.critical(replications)?, self.error_df(replications))
    }

    /// The true difference that shows with a chance of `power`.
    ///
    /// `None` without replication, unless `sd` is above 0, and unless `power` lies between the chance
    /// of a false alarm and 1.
    pub fn detectable(&self, replications: u32, sd: f64, power: f64) -> Option<f64> {
        if !(sd > 0.0 && sd.is_finite()) {
            return None;
        }
        let df = self.error_df(replications);
        let effect = effect_for_power(power, self.critical(replications)?, df)?;
        Some(effect * standard_error(replications, sd))
    }

    /// The least difference that is shown if it is found (LSD; held for all comparisons).
    pub fn least_difference(&self, replications: u32, sd: f64) -> Option<f64> {
        let least = self.critical(replications)? * standard_error(replications, sd);
        least.is_finite().then_some(least)
    }

    /// The fewest replications, from 2 to `most`, with which a difference shows with a chance of
    /// `power`; `None` when even `most` do not do.
    pub fn replications(&self, difference: f64, sd: f64, power: f64, most: u32) -> Option<u32> {
        let does = |n: u32| self.power(n, difference, sd).is_some_and(|p| p >= power);
        if most < 2 || !does(most) {
            return None;
        }
        // More replications never show less, so halving finds the first that do.
        let (mut low, mut high) = (1, most);
        while high - low > 1 {
            let middle = u32::midpoint(low, high);
            if does(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
    }
}

/// Standard error of a difference of two means.
fn standard_error(replications: u32, sd: f64) -> f64 {
    sd * (2.0 / f64::from(replications)).sqrt()
}

/// The standard deviation of a plot's mean: what plots differ by, and what samples within a plot
/// leave unsure.
pub fn sd_of_plot(between_plots: f64, within_plots: f64, samples: u32) -> f64 {
    (between_plots.powi(2) + within_plots.powi(2) / f64::from(samples.max(1))).sqrt()
}
