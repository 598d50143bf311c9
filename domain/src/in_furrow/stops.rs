//! What never goes into the furrow, whatever else is said.

use serde::{Deserialize, Serialize};

use super::plan::{InFurrowPlan, InFurrowProduct};
use crate::conditions::Crop;
use crate::provenance::{Mark, Reason, sources};

/// Something in a product that harms seed beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NeverInFurrow {
    /// Urea.
    Urea,
    /// Urea-ammonium nitrate solution: 28-0-0, 32-0-0.
    Uan,
    /// Ammonium thiosulfate: 12-0-0-26S.
    AmmoniumThiosulfate,
}

/// Why a product must not run in the furrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stop {
    /// Fertilizer with soybean seed.
    FertilizerOnSoybean,
    /// Urea in the product.
    Urea,
    /// UAN in the product.
    Uan,
    /// Ammonium thiosulfate in the product.
    AmmoniumThiosulfate,
    /// Rows for which no limit was published.
    NoPublishedLimit,
}

impl Stop {
    /// The sentence that a person reads.
    pub const fn reason(self) -> Reason {
        match self {
            Self::FertilizerOnSoybean => Reason::fixed(
                "soybean: no fertilizer in the furrow; put it beside and below the seed, or spread it",
                Mark::Read,
                sources::SOYBEAN_SALT,
            ),
            Self::Urea => Reason::fixed(
                "urea turns to ammonia, which kills seedlings: never in the furrow",
                Mark::Read,
                sources::NEVER_IN_FURROW,
            ),
            Self::Uan => Reason::fixed(
                "UAN carries urea: never in the furrow",
                Mark::Read,
                sources::NEVER_IN_FURROW,
            ),
            Self::AmmoniumThiosulfate => Reason::fixed(
                "ammonium thiosulfate harms seed beside it: never in the furrow",
                Mark::Read,
                sources::NEVER_IN_FURROW,
            ),
            Self::NoPublishedLimit => Reason::fixed(
                "no limit was published for rows of this width: leave it out of the furrow",
                Mark::Proposal,
                sources::OWN_CHOICE,
            ),
        }
    }
}

impl From<NeverInFurrow> for Stop {
    fn from(it: NeverInFurrow) -> Self {
        match it {
            NeverInFurrow::Urea => Self::Urea,
            NeverInFurrow::Uan => Self::Uan,
            NeverInFurrow::AmmoniumThiosulfate => Self::AmmoniumThiosulfate,
        }
    }
}

/// Every stop of a plan for a crop, each once. An empty list allows nothing by itself: limits and
/// the label still hold.
pub fn stops(plan: &InFurrowPlan, crop: Crop) -> Vec<Stop> {
    let mut found = Vec::new();
    let starter = matches!(plan.product, InFurrowProduct::Starter { .. });
    if starter && crop == Crop::Soybean {
        found.push(Stop::FertilizerOnSoybean);
    }
    for harmful in plan.contains.iter().flatten() {
        let stop = Stop::from(*harmful);
        if !found.contains(&stop) {
            found.push(stop);
        }
    }
    found
}
