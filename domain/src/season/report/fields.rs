//! Field by field: stands, trials, digs.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::Named;
use crate::conditions::Crop;
use crate::learning::SoilClass;
use crate::quantity::{ArealNumberDensity, Length};

/// A stand that was counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FieldStand {
    /// The field.
    pub field: Named,
    /// The crop.
    pub crop: Crop,
    /// The day of planting.
    pub planted_on: NaiveDate,
    /// The day of the count.
    pub counted_on: NaiveDate,
    /// Plants by area.
    pub population: ArealNumberDensity,
    /// Low limit, 95 %.
    pub population_low: Option<ArealNumberDensity>,
    /// High limit, 95 %.
    pub population_high: Option<ArealNumberDensity>,
    /// Plants of the seeds that were dropped, 0 to 1.
    pub emergence: Option<f64>,
    /// What it says, in words.
    pub words: String,
}

/// A trial.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialSummary {
    /// The trial.
    pub trial: Named,
    /// What was measured, in words: `emergence`.
    pub response: String,
    /// UCUM code of its unit.
    pub unit: String,
    /// The design, in words.
    pub design: String,
    /// Differences between treatments.
    pub effects: Vec<TrialEffect>,
    /// What can and what can't be concluded.
    pub verdict: String,
}

/// A difference between two treatments, in the unit of the trial.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialEffect {
    /// The treatment.
    pub treatment: String,
    /// What it is held against.
    pub against: String,
    /// Treatment less the other.
    pub difference: f64,
    /// Low limit, 95 %; none without replication.
    pub low: Option<f64>,
    /// High limit.
    pub high: Option<f64>,
    /// The p-value; none without replication.
    pub p: Option<f64>,
}

/// A field.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FieldLine {
    /// The field.
    pub field: Named,
    /// The planter.
    pub planter: Named,
    /// Soil and cover.
    pub class: SoilClass,
    /// Revisions that were issued.
    pub issued: u32,
    /// Whether one was seen.
    pub seen: bool,
    /// Digs.
    pub digs: u32,
    /// Whether load and depth were in the window at the first dig; none where it does not tell.
    pub first_inside: Option<bool>,
    /// The same at the last dig.
    pub last_inside: Option<bool>,
    /// Mean depth less the depth that was wanted, at the last dig.
    pub last_off: Option<Length>,
}
