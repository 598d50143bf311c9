//! Pests of a green bridge.

use serde::{Deserialize, Serialize};

use crate::quantity::Ratio;

/// Pests that were counted in a field.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Pests {
    /// Slugs on a plant, mean of five plants at ten places.
    #[serde(default)]
    pub slugs_per_plant: Option<f64>,
    /// Share of plants that armyworms feed on.
    #[serde(default)]
    pub armyworm: Option<Ratio>,
    /// Share of plants that cutworms cut or tunnelled.
    #[serde(default)]
    pub cutworm: Option<Ratio>,
}

impl Pests {
    /// Nobody counted.
    pub const NOT_COUNTED: Self = Self { slugs_per_plant: None, armyworm: None, cutworm: None };
}
