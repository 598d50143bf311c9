//! What stands in an entry, as it is kept.

use chrono::NaiveDate;
use domain::provenance::Step;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::dto::HarvestIn;
use crate::http::quantity::Quantities;

/// Readings of one response on one plot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ValuesContent {
    /// As they were entered; of a harvest what was worked out.
    pub entered: Quantities,
    /// In the unit of the trial.
    pub numbers: Vec<f64>,
    /// When it was looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub observed_on: Option<NaiveDate>,
    /// Dig checks that they come from.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dig_check_ids: Vec<Uuid>,
    /// Stand counts that they come from.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stand_count_ids: Vec<Uuid>,
    /// What was weighed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub harvest: Option<HarvestIn>,
    /// How the yield follows from it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<Step>,
    /// What else was seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl ValuesContent {
    /// Whether it says the same, whatever else was noted.
    pub fn same_as(&self, other: &Self) -> bool {
        self.entered == other.entered && self.harvest == other.harvest
    }
}

/// Which treatment a plot got.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct PlantedContent {
    /// By its place in the list.
    pub treatment: u16,
    /// What else was seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Whether a plot is lost.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct LostContent {
    /// Why; `None` where that was taken back.
    pub reason: Option<String>,
}
