//! What an advisor wants to run in the furrow.

use serde::{Deserialize, Serialize};

use super::nutrients::Analysis;
use super::stops::NeverInFurrow;
use crate::quantity::{Acidity, Area, ExchangeCapacity, MassDensity, Volume, VolumePerArea};

/// A liquid for the furrow. What nobody told is `None`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct InFurrowPlan {
    /// What it is.
    pub product: InFurrowProduct,
    /// All liquid through the outlets, on an area. Without it the most starter that is allowed.
    #[serde(default)]
    pub rate: Option<VolumePerArea>,
    /// The part of the rate that is product, where it is thinned with water; else all of it.
    #[serde(default)]
    pub product_rate: Option<VolumePerArea>,
    /// What its label names of what never goes into a furrow; `None` where nobody looked.
    #[serde(default)]
    pub contains: Option<Vec<NeverInFurrow>>,
    /// How many other products share the tank.
    #[serde(default)]
    pub mixed_with: u8,
    /// Content of the tank.
    #[serde(default)]
    pub tank: Option<Volume>,
    /// Area to plant.
    #[serde(default)]
    pub area: Option<Area>,
    /// Cation exchange capacity, from a soil test.
    #[serde(default)]
    pub exchange_capacity: Option<ExchangeCapacity>,
}

/// The kinds of liquid for the furrow.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum InFurrowProduct {
    /// Starter fertilizer.
    Starter {
        /// N - P2O5 - K2O on the label.
        analysis: Analysis,
        /// Density on the label.
        density: MassDensity,
    },
    /// Live rhizobia.
    Inoculant {
        /// Years since soybean stood there last; 0 for last year's crop.
        #[serde(default)]
        years_since_soybean: Option<u8>,
        /// Soil pH, from a soil test.
        #[serde(default)]
        soil_ph: Option<Acidity>,
    },
    /// Anything else that its label allows in the furrow.
    ByLabel,
}

impl InFurrowPlan {
    /// A product of which nothing else is known.
    pub const fn of(product: InFurrowProduct) -> Self {
        Self {
            product,
            rate: None,
            product_rate: None,
            contains: None,
            mixed_with: 0,
            tank: None,
            area: None,
            exchange_capacity: None,
        }
    }
}
