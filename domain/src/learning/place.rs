//! Where a dig belongs in the pooling.

use serde::{Deserialize, Serialize};

use crate::conditions::{Conditions, CoverState, TextureGroup};

/// What covers the soil, as far as it matters for pooling.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CoverClass {
    /// No cover crop.
    NoCover,
    /// A living cover crop.
    Living,
    /// A dying or dead cover crop.
    Dead,
}

/// The texture group, as far as somebody named a texture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SoilGroup {
    /// Nobody named it.
    Unknown,
    /// Sand, loamy sand, sandy loam.
    Coarse,
    /// Loam, silt loam, silt, sandy clay loam.
    Medium,
    /// Clay loam and finer.
    Fine,
}

/// A soil and cover class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct SoilClass {
    /// The soil.
    pub soil: SoilGroup,
    /// The cover.
    pub cover: CoverClass,
}

impl SoilClass {
    /// The class of a field.
    pub fn of(field: &Conditions) -> Self {
        let soil = field.texture.map_or(SoilGroup::Unknown, |t| match t.group() {
            TextureGroup::Coarse | TextureGroup::ModeratelyCoarse => SoilGroup::Coarse,
            TextureGroup::Medium => SoilGroup::Medium,
            TextureGroup::Fine => SoilGroup::Fine,
        });
        let cover = field.cover.map_or(CoverClass::NoCover, |cover| {
            if cover.state.is_none_or(CoverState::is_green) {
                CoverClass::Living
            } else {
                CoverClass::Dead
            }
        });
        Self { soil, cover }
    }
}

/// The path from a practice to one field in one season. Ids are those of the caller, as numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Place {
    /// Soil and cover.
    pub class: SoilClass,
    /// The planter.
    #[serde(with = "super::id")]
    pub planter: u128,
    /// The field.
    #[serde(with = "super::id")]
    pub field: u128,
    /// The year of the season.
    pub season: u16,
}

impl SoilClass {
    /// The class of a field of which nothing was reported.
    pub const UNKNOWN: Self = Self { soil: SoilGroup::Unknown, cover: CoverClass::NoCover };
}
