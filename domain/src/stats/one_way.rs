//! Readings in groups: analysis of variance and its two components (one-way random model).
//!
//! For a dig the groups are rows. Groups may have different sizes.

use super::count::count;
use super::fisher_snedecor::f_tail;
use super::sample::{mean, squares};

/// The one-way table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OneWay {
    /// Groups with at least one reading.
    pub groups: f64,
    /// Readings in all.
    pub readings: f64,
    /// Mean of all readings.
    pub grand_mean: f64,
    /// Sum of squares between groups.
    pub between_ss: f64,
    /// Sum of squares within groups.
    pub within_ss: f64,
    /// Readings per group that count, `n0` = (N - sum n² / N) / (k - 1); 0 with one group.
    pub n0: f64,
}

/// The two components of variance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Components {
    /// Variance between groups, never negative.
    pub between: f64,
    /// Variance within groups.
    pub within: f64,
    /// The moment estimate (MSB - MSW) / `n0`, which may come out negative.
    pub moment: f64,
}

impl OneWay {
    /// Makes the table. Empty groups are left out; `None` without readings.
    pub fn of(groups: &[Vec<f64>]) -> Option<Self> {
        let filled: Vec<&Vec<f64>> = groups.iter().filter(|g| !g.is_empty()).collect();
        // Distances from one reading keep their digits when the readings share many.
        let origin = *filled.first()?.first()?;
        let all: Vec<f64> = filled.iter().copied().flatten().map(|x| x - origin).collect();
        let centre = mean(&all)?;
        let readings = count(all.len());
        let group_count = count(filled.len());
        let between = |g: &Vec<f64>| {
            let shifted: Vec<f64> = g.iter().map(|x| x - origin).collect();
            let own = mean(&shifted).unwrap_or(centre);
            count(g.len()) * (own - centre).powi(2)
        };
        let sizes: f64 = filled.iter().map(|g| count(g.len()).powi(2)).sum();
        let n0 = if group_count > 1.0 {
            (readings - sizes / readings) / (group_count - 1.0)
        } else {
            0.0
        };
        Some(Self {
            groups: group_count,
            readings,
            grand_mean: origin + centre,
            between_ss: filled.iter().map(|g| between(g)).sum(),
            within_ss: filled.iter().map(|g| squares(g)).sum(),
            n0,
        })
    }

    /// Degrees of freedom between groups.
    pub fn between_df(&self) -> f64 {
        self.groups - 1.0
    }

    /// Degrees of freedom within groups.
    pub fn within_df(&self) -> f64 {
        self.readings - self.groups
    }

    /// Mean square between groups; `None` with one group.
    pub fn between_ms(&self) -> Option<f64> {
        (self.between_df() >= 1.0).then(|| self.between_ss / self.between_df())
    }

    /// Mean square within groups; `None` when no group has two readings.
    pub fn within_ms(&self) -> Option<f64> {
        (self.within_df() >= 1.0).then(|| self.within_ss / self.within_df())
    }

    /// MSB / MSW; `None` where either is missing or nothing varies within groups.
    pub fn f(&self) -> Option<f64> {
        let within = self.within_ms().filter(|w| *w > 0.0)?;
        Some(self.between_ms()? / within)
    }

    /// The chance of an F at least this large when the groups do not differ.
    pub fn p(&self) -> Option<f64> {
        f_tail(self.f()?, self.between_df(), self.within_df())
    }

    /// The components; `None` unless there are two groups and one of them has two readings.
    pub fn components(&self) -> Option<Components> {
        let (between, within) = (self.between_ms()?, self.within_ms()?);
        let moment = (between - within) / self.n0;
        Some(Components { between: moment.max(0.0), within, moment })
    }
}

impl Components {
    /// Whether a negative estimate was set to 0.
    pub fn set_to_zero(&self) -> bool {
        self.moment < 0.0
    }

    /// Variance of one reading of any group: both components together.
    pub fn total(&self) -> f64 {
        self.between + self.within
    }

    /// Share of the variance that lies between groups; 0 when nothing varies.
    pub fn intraclass(&self) -> f64 {
        let total = self.total();
        if total > 0.0 { self.between / total } else { 0.0 }
    }
}
