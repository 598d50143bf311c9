//! A cover crop as it stands on the day of planting.

use serde::{Deserialize, Serialize};

use crate::quantity::{Area, ArealMassDensity, Length, Mass, Measured, Ratio};

/// A cover crop as it stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CoverCrop {
    /// What it is.
    pub species: CoverSpecies,
    /// How tall.
    pub height: Option<Length>,
    /// Ground it covers.
    pub ground_cover: Option<Ratio>,
    /// Alive or dead, and how.
    pub state: Option<CoverState>,
    /// How far it has grown.
    #[serde(default)]
    pub stage: Option<CoverStage>,
    /// Dry matter that was clipped and weighed. It goes before height and ground cover.
    #[serde(default)]
    pub clip: Option<CoverClip>,
    /// Nitrogen in the dry tops, by a laboratory.
    #[serde(default)]
    pub nitrogen: Option<Ratio>,
    /// Which way it was rolled, where it was.
    #[serde(default)]
    pub rolled: Option<RollDirection>,
}

impl CoverCrop {
    /// A cover crop of which only the species is known.
    pub const fn of(species: CoverSpecies) -> Self {
        Self {
            species,
            height: None,
            ground_cover: None,
            state: None,
            stage: None,
            clip: None,
            nitrogen: None,
            rolled: None,
        }
    }
}

/// Which way a cover crop was rolled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RollDirection {
    /// Along the rows to be planted.
    Parallel,
    /// Across or at an angle to them.
    Across,
}

/// A clip sample.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CoverClip {
    /// Dry mass.
    pub dry: Mass,
    /// Area that was clipped.
    pub area: Area,
}

impl CoverClip {
    /// Dry matter: mass over area; `None` for a clip of no area.
    pub fn density(&self) -> Option<ArealMassDensity> {
        let area = self.area.si();
        (area > 0.0).then(|| ArealMassDensity::from_si(self.dry.si() / area))
    }
}

/// How far a cover crop has grown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CoverStage {
    /// Leaves and tillers only.
    Tillering,
    /// Stems grow, first nodes can be felt.
    Jointing,
    /// Flag leaf or boot; buds on legumes.
    Boot,
    /// Heads are out.
    Heading,
    /// In flower.
    Flowering,
    /// Seeds fill.
    Milk,
}

/// Cover crops.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CoverSpecies {
    /// Cereal rye.
    CerealRye,
    /// Winter wheat.
    Wheat,
    /// Triticale.
    Triticale,
    /// Oat.
    Oat,
    /// Barley.
    Barley,
    /// Crimson clover.
    CrimsonClover,
    /// Hairy vetch.
    HairyVetch,
    /// A mix led by grasses.
    GrassMix,
    /// A mix led by legumes.
    LegumeMix,
}

impl CoverSpecies {
    /// Whether the height rule for small grains applies, rather than the one for broadleaves.
    pub const fn is_grass(self) -> bool {
        match self {
            Self::CerealRye
            | Self::Wheat
            | Self::Triticale
            | Self::Oat
            | Self::Barley
            | Self::GrassMix => true,
            Self::CrimsonClover | Self::HairyVetch | Self::LegumeMix => false,
        }
    }
}

/// The state of a cover crop on the day of planting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CoverState {
    /// Alive and upright.
    GreenStanding,
    /// Alive and rolled down.
    GreenRolled,
    /// Sprayed and yellowing.
    Dying,
    /// Dead and damp.
    DeadDamp,
    /// Dead, dry and crisp.
    DeadCrisp,
}

impl CoverState {
    /// Whether the cover is alive.
    pub const fn is_green(self) -> bool {
        matches!(self, Self::GreenStanding | Self::GreenRolled)
    }
}
