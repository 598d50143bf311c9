//! What the topsoil is made of.

use serde::{Deserialize, Serialize};

use crate::quantity::{MassDensity, Ratio};

/// What the topsoil is made of, where a laboratory or the soil survey says. All shares 0 to 1.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct SoilMakeup {
    /// Clay by mass, of the part below 2 mm.
    #[serde(default)]
    pub clay: Option<Ratio>,
    /// Organic carbon by mass.
    #[serde(default)]
    pub organic_carbon: Option<Ratio>,
    /// Bulk density.
    #[serde(default)]
    pub bulk_density: Option<MassDensity>,
    /// Water by volume at seed depth, from a probe.
    #[serde(default)]
    pub water: Option<Ratio>,
}

impl SoilMakeup {
    /// Nobody looked.
    pub const UNKNOWN: Self =
        Self { clay: None, organic_carbon: None, bulk_density: None, water: None };
}
