//! Draft of one row by the standard's table, all of it from memory.

use serde::{Deserialize, Serialize};

use crate::conditions::TextureGroup;
use crate::planter::Planter;
use crate::provenance::{Coefficient, Coefficients};
use crate::stats::Range;

/// A line of the standard's table of planter draft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DraftRow {
    /// Mounted, prepared seedbed, seeding only.
    MountedSeedOnly,
    /// Drawn, prepared seedbed, seeding only.
    DrawnSeedOnly,
    /// Drawn, prepared seedbed, seed, fertilizer and herbicide.
    DrawnWithProducts,
    /// No-till with one fluted coulter a row.
    NoTillCoulter,
    /// Zone-till with three fluted coulters a row.
    ZoneTill,
}

impl DraftRow {
    /// The line that a planter is most like.
    pub fn of(planter: &Planter) -> Self {
        if planter.unit.coulter.is_some() { Self::NoTillCoulter } else { Self::DrawnSeedOnly }
    }

    /// The coefficient of the line, N a row in fine soil.
    pub fn coefficient(self, k: &Coefficients) -> &Coefficient {
        match self {
            Self::MountedSeedOnly => &k.draft_mounted,
            Self::DrawnSeedOnly => &k.draft_without_coulter,
            Self::DrawnWithProducts => &k.draft_with_products,
            Self::NoTillCoulter => &k.draft_with_coulter,
            Self::ZoneTill => &k.draft_zone_till,
        }
    }

    /// The factor of the texture: 1 in fine soil. A texture that nobody knows is taken as medium,
    /// with the range of all three.
    pub(super) fn texture_factor(self, texture: Option<TextureGroup>, k: &Coefficients) -> Range {
        let (medium, coarse) = match self {
            Self::NoTillCoulter => (k.draft_medium.value, k.draft_coarse.value),
            Self::ZoneTill => (k.draft_zone_medium.value, k.draft_zone_coarse.value),
            Self::MountedSeedOnly | Self::DrawnSeedOnly | Self::DrawnWithProducts => (1.0, 1.0),
        };
        match texture {
            Some(TextureGroup::Fine) => Range::exact(1.0),
            Some(TextureGroup::Medium) => Range::exact(medium),
            Some(TextureGroup::ModeratelyCoarse | TextureGroup::Coarse) => Range::exact(coarse),
            None => Range::new(coarse.min(medium), medium, 1.0),
        }
    }
}
