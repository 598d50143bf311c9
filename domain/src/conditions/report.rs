//! A conditions report: what somebody saw and felt in a field.
//!
//! All but the crop is optional. What is missing is assumed by the engine, said so, and widens
//! the answer.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::cover_crop::CoverCrop;
use super::pests::Pests;
use super::soil_makeup::SoilMakeup;
use super::termination::TerminationZone;
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
    /// A ball a little bigger than a golf ball, from the top 2 to 3 in, thrown up.
    #[serde(default)]
    pub toss: Option<TossTest>,
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
    /// What the topsoil is made of, where a laboratory or the soil survey says.
    #[serde(default)]
    pub soil: SoilMakeup,
    /// Strength of the seed zone by knife or probe. A penetrometer reading goes before it.
    #[serde(default)]
    pub strength_class: Option<StrengthClass>,
    /// Depth at which the soil temperature was read.
    #[serde(default)]
    pub temperature_depth: Option<Length>,
    /// How the residue lies.
    #[serde(default)]
    pub residue_spread: Option<ResidueSpread>,
    /// Where the new rows run, seen from the old ones.
    #[serde(default)]
    pub row_position: Option<RowPosition>,
    /// The day on which the cover crop was ended, or is meant to be; it may lie after planting.
    #[serde(default)]
    pub cover_ended: Option<NaiveDate>,
    /// The zone of the guidelines for ending cover crops.
    #[serde(default)]
    pub termination_zone: Option<TerminationZone>,
    /// Whether the field is irrigated.
    #[serde(default)]
    pub irrigated: Option<bool>,
    /// Pests that were counted.
    #[serde(default)]
    pub pests: Pests,
    /// The hour of the day at which planting is meant to start, 0 to 23.
    #[serde(default)]
    pub start_hour: Option<u8>,
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
            toss: None,
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
            soil: SoilMakeup::UNKNOWN,
            strength_class: None,
            temperature_depth: None,
            residue_spread: None,
            row_position: None,
            cover_ended: None,
            termination_zone: None,
            irrigated: None,
            pests: Pests::NOT_COUNTED,
            start_hour: None,
        }
    }

    /// Days from the end of the cover to planting; negative when it is ended after planting.
    pub fn days_from_end_to_planting(&self) -> Option<i64> {
        let (ended, planting) = self.cover_ended.zip(self.planting_date)?;
        Some((planting - ended).num_days())
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

/// The toss test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TossTest {
    /// The ball breaks in the air.
    BreaksUp,
    /// The ball lands whole.
    LandsWhole,
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

/// How residue lies on the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ResidueSpread {
    /// Alike everywhere.
    Even,
    /// In bands behind the combine.
    Banded,
    /// In piles.
    Piles,
}

/// Where the new rows run, seen from the old ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RowPosition {
    /// On the old row.
    OnOldRow,
    /// A hand's width beside it.
    BesideOldRow,
    /// Midway between old rows.
    BetweenOldRows,
    /// At an angle, or nobody knows where the old rows are.
    Across,
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
