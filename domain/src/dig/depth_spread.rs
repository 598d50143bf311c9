//! How depths scatter: from row to row, from seed to seed within a row, and both together.

use serde::{Deserialize, Serialize};

use crate::quantity::{Length, Measured};
use crate::stats::{ComponentLimits, OneWay, count, mean, sd, sd_limits};

/// Spread split into its parts; what cannot be told is empty. Limits are of 95 %.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct DepthSpread {
    /// Standard deviation between rows.
    pub between: Option<Length>,
    /// Low limit of it (modified large-sample method).
    #[serde(default)]
    pub between_low: Option<Length>,
    /// High limit of it.
    #[serde(default)]
    pub between_high: Option<Length>,
    /// The estimate between rows came out negative and was set to 0.
    pub between_set_to_zero: bool,
    /// Standard deviation from seed to seed within a row.
    pub within: Option<Length>,
    /// Low limit of it (chi-square).
    pub within_low: Option<Length>,
    /// High limit of it.
    pub within_high: Option<Length>,
    /// Standard deviation of a seed of any row: both parts together.
    #[serde(default)]
    pub total: Option<Length>,
    /// Low limit of it (modified large-sample method; chi-square with one seed a row).
    #[serde(default)]
    pub total_low: Option<Length>,
    /// High limit of it.
    #[serde(default)]
    pub total_high: Option<Length>,
    /// Share of the variance that lies between rows.
    pub intraclass: Option<f64>,
    /// Low limit of it (exact, from F).
    #[serde(default)]
    pub intraclass_low: Option<f64>,
    /// High limit of it.
    #[serde(default)]
    pub intraclass_high: Option<f64>,
}

impl DepthSpread {
    /// The parts of depths in m, row by row.
    pub(super) fn of(rows: &[Vec<f64>]) -> Self {
        let table = OneWay::of(rows);
        let Some(within) = table.and_then(|t| t.within_ms()) else {
            return Self::one_seed_a_row(rows);
        };
        let parts = table.and_then(|t| t.components());
        let limits = ComponentLimits::of(rows, 0.95);
        let (between_low, between_high) = ends(limits.map(|l| l.between));
        let (total_low, total_high) = ends(limits.map(|l| l.total));
        let intraclass = limits.and_then(|l| l.intraclass);
        let df = table.map_or(0.0, |t| t.within_df());
        let (within_low, within_high) = of_sd(within.max(0.0).sqrt(), df);
        Self {
            between: parts.map(|p| root(p.between)),
            between_low,
            between_high,
            between_set_to_zero: parts.is_some_and(|p| p.set_to_zero()),
            within: Some(root(within)),
            within_low,
            within_high,
            total: parts.map(|p| root(p.total())),
            total_low,
            total_high,
            intraclass: parts.map(|p| p.intraclass()),
            intraclass_low: intraclass.map(|l| l.0),
            intraclass_high: intraclass.map(|l| l.1),
        }
    }

    /// With one seed a row the parts cannot be told apart, but their sum can.
    fn one_seed_a_row(rows: &[Vec<f64>]) -> Self {
        let seeds: Vec<f64> = rows.iter().filter_map(|r| mean(r)).collect();
        let total = sd(&seeds);
        let (total_low, total_high) =
            total.map_or((None, None), |s| of_sd(s, count(seeds.len()) - 1.0));
        Self { total: total.map(Length::from_si), total_low, total_high, ..Self::default() }
    }
}

fn root(variance: f64) -> Length {
    Length::from_si(variance.max(0.0).sqrt())
}

/// Limits of a variance as lengths.
fn ends(limits: Option<(f64, f64)>) -> (Option<Length>, Option<Length>) {
    (limits.map(|l| root(l.0)), limits.map(|l| root(l.1)))
}

fn of_sd(sd: f64, df: f64) -> (Option<Length>, Option<Length>) {
    let limits = sd_limits(sd, df, 0.95);
    (limits.map(|l| Length::from_si(l.0)), limits.map(|l| Length::from_si(l.1)))
}
