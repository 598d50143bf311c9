//! A conditions report: what somebody saw and felt in a field.
//!
//! All but the crop is optional. What is missing is assumed by the engine, said so, and widens
//! the answer.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::texture::TextureClass;
use crate::quantity::{Length, Pressure, Ratio, Temperature};

/// What a field is like.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Conditions {
    /// The crop to be planted.
    pub crop: Crop,
    /// The day of planting.
    pub planting_date: Option<NaiveDate>,
    /// Texture of the topsoil.
    pub texture: Option<TextureClass>,
    /// Moisture at seed depth, by feel.
    pub moisture: Option<Moisture>,
    /// Soil from seed depth, pressed to a ball.
    pub ball: Option<BallTest>,
    /// Length of the ribbon that soil as found can be pressed to.
    pub ribbon: Option<Length>,
    /// Soil temperature at seed depth.
    pub soil_temperature: Option<Temperature>,
    /// Whether that temperature was read under killed or bare ground while planting green.
    pub read_outside_cover: bool,
    /// Lowest soil temperature expected in the next 48 h.
    pub soil_low: Option<Temperature>,
    /// Rain expected in the next 48 h.
    pub rain: Option<Length>,
    /// Cone penetrometer reading in the top 3 in.
    pub penetration: Option<Pressure>,
    /// The cover crop, if there is one.
    pub cover: Option<CoverCrop>,
    /// The crop whose residue lies there.
    pub previous_crop: Option<PreviousCrop>,
    /// Its yield in bushels per acre.
    pub previous_yield_bu_ac: Option<f64>,
    /// Ground covered by dead residue, measured by transect.
    pub residue_cover: Option<Ratio>,
    /// How the residue breaks at the hour of planting.
    pub residue_feel: Option<ResidueFeel>,
}

impl Conditions {
    /// A report of which only the crop is known.
    pub const fn of(crop: Crop) -> Self {
        Self {
            crop,
            planting_date: None,
            texture: None,
            moisture: None,
            ball: None,
            ribbon: None,
            soil_temperature: None,
            read_outside_cover: false,
            soil_low: None,
            rain: None,
            penetration: None,
            cover: None,
            previous_crop: None,
            previous_yield_bu_ac: None,
            residue_cover: None,
            residue_feel: None,
        }
    }
}

/// The crop to be planted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Crop {
    /// Corn.
    Corn,
    /// Soybean.
    Soybean,
}

/// Moisture by feel, as a class of the water a soil can hold for plants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moisture {
    /// 0 to 25 %.
    Dry,
    /// 25 to 50 %.
    SlightlyMoist,
    /// 50 to 75 %.
    Moist,
    /// 75 to 100 %.
    Wet,
    /// Field capacity and above.
    AtCapacity,
}

/// The ball test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BallTest {
    /// Falls apart.
    Crumbles,
    /// Cracks when pressed.
    Cracks,
    /// Deforms like putty.
    Deforms,
}

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

/// The crop whose residue lies on the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PreviousCrop {
    /// Corn.
    Corn,
    /// Soybean.
    Soybean,
    /// Wheat or another small grain.
    Wheat,
    /// Something else, with little residue.
    Other,
}

/// How residue breaks when bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ResidueFeel {
    /// Snaps.
    Crisp,
    /// Bends and does not snap.
    Pliable,
    /// Beads of water or dew on it.
    Wet,
}

/// Strength of the seed zone by penetrometer or knife.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StrengthClass {
    /// Below 100 psi.
    Loose,
    /// 100 to 200 psi.
    Good,
    /// 200 to 300 psi.
    Firm,
    /// Above 300 psi.
    Hard,
}
