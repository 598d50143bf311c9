//! A risk as a list of points, each with its reason: explained, not a score from nowhere.

use serde::{Deserialize, Serialize};

use crate::provenance::{Coefficient, Input, Mark, Reason, Step, sources};

/// One cause of a risk, and how much it counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RiskPoint {
    /// What it counts, from the table of coefficients: points, or a factor.
    pub worth: f64,
    /// Why.
    pub because: Reason,
}

impl RiskPoint {
    /// A cause that counts what the coefficient says.
    pub const fn of(k: &Coefficient, because: Reason) -> Self {
        Self { worth: k.value, because }
    }
}

/// The sum of the points, never below 0.
pub(super) fn total(points: &[RiskPoint]) -> f64 {
    points.iter().map(|point| point.worth).sum::<f64>().max(0.0)
}

/// The reasons alone.
pub(super) fn causes(points: &[RiskPoint]) -> Vec<Reason> {
    points.iter().map(|point| point.because.clone()).collect()
}

/// The sum as a step of a trace; `most` is where it ends.
pub(crate) fn points_step(
    step: &'static str,
    points: &[RiskPoint],
    total: f64,
    most: Option<f64>,
) -> Step {
    let symbol = |place: usize| format!("p_{}", place + 1);
    let mut inputs: Vec<Input> = points
        .iter()
        .enumerate()
        .map(|(place, point)| Input {
            symbol: symbol(place).into(),
            ..Input::new("p", point.worth, "1")
        })
        .collect();
    let names: Vec<String> = (0..points.len()).map(symbol).collect();
    let sum = if names.is_empty() { "0".to_owned() } else { names.join(" + ") };
    let formula = match most {
        Some(most) => {
            inputs.push(Input::new("p_most", most, "1"));
            format!("min( {sum}, p_most )")
        }
        None => sum,
    };
    Step {
        step: step.into(),
        formula: formula.into(),
        inputs,
        value: total,
        unit: "1".into(),
        low: None,
        high: None,
        source: sources::OWN_CHOICE.into(),
        mark: Mark::Proposal,
    }
}
