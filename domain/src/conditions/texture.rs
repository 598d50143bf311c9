//! The twelve USDA texture classes, and the exact rules that tell them apart.

use serde::{Deserialize, Serialize};

/// A USDA texture class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TextureClass {
    /// Sand.
    Sand,
    /// Loamy sand.
    LoamySand,
    /// Sandy loam.
    SandyLoam,
    /// Loam.
    Loam,
    /// Silt loam.
    SiltLoam,
    /// Silt.
    Silt,
    /// Sandy clay loam.
    SandyClayLoam,
    /// Clay loam.
    ClayLoam,
    /// Silty clay loam.
    SiltyClayLoam,
    /// Sandy clay.
    SandyClay,
    /// Silty clay.
    SiltyClay,
    /// Clay.
    Clay,
}

/// The four groups of the moisture-by-feel table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TextureGroup {
    /// Sand, loamy sand.
    Coarse,
    /// Sandy loam.
    ModeratelyCoarse,
    /// Loam, silt loam, silt, sandy clay loam.
    Medium,
    /// Clay loam and finer.
    Fine,
}

/// Why sand and clay do not make a texture.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum TextureError {
    /// A share is missing, infinite, or outside 0 to 100 %.
    #[error("{part} is {value} %; give a share from 0 to 100 %")]
    OutsideRange {
        /// `sand` or `clay`.
        part: &'static str,
        /// What was given, in percent.
        value: f64,
    },
    /// Sand and clay leave no room for silt.
    #[error("sand {sand} % and clay {clay} % together pass 100 %")]
    PassHundred {
        /// Sand in percent.
        sand: f64,
        /// Clay in percent.
        clay: f64,
    },
}

impl TextureClass {
    /// All classes, in the order of the rules.
    pub const ALL: [Self; 12] = [
        Self::Sand,
        Self::LoamySand,
        Self::SandyLoam,
        Self::Loam,
        Self::SiltLoam,
        Self::Silt,
        Self::SandyClayLoam,
        Self::ClayLoam,
        Self::SiltyClayLoam,
        Self::SandyClay,
        Self::SiltyClay,
        Self::Clay,
    ];

    /// The class of a soil with so much sand and clay, in percent by mass of the part below 2 mm.
    ///
    /// Silt is what is left. Rules of Benham, Ahrens and Nettleton 2009 (USDA-NRCS); every point
    /// of the triangle lies in exactly one class.
    ///
    /// # Errors
    /// When a share is not between 0 and 100 %, or both together pass 100 %.
    pub fn classify(sand: f64, clay: f64) -> Result<Self, TextureError> {
        for (part, value) in [("sand", sand), ("clay", clay)] {
            if !(0.0..=100.0).contains(&value) {
                return Err(TextureError::OutsideRange { part, value });
            }
        }
        if sand + clay > 100.0 + 1e-9 {
            return Err(TextureError::PassHundred { sand, clay });
        }
        let silt = (100.0 - sand - clay).max(0.0);
        let found = Self::ALL.into_iter().find(|class| class.holds(sand, silt, clay));
        // The rules leave no gap; clay is the class of the last rule.
        Ok(found.unwrap_or(Self::Clay))
    }

    /// Whether the rule of this class holds for a soil, all in percent.
    pub fn holds(self, sand: f64, silt: f64, clay: f64) -> bool {
        match self {
            Self::Sand => silt + 1.5 * clay < 15.0,
            Self::LoamySand => silt + 1.5 * clay >= 15.0 && silt + 2.0 * clay < 30.0,
            Self::SandyLoam => {
                silt + 2.0 * clay >= 30.0
                    && ((7.0..20.0).contains(&clay) && sand > 52.0 || clay < 7.0 && silt < 50.0)
            }
            Self::Loam => {
                (7.0..27.0).contains(&clay) && (28.0..50.0).contains(&silt) && sand <= 52.0
            }
            Self::SiltLoam => {
                silt >= 50.0 && (12.0..27.0).contains(&clay)
                    || (50.0..80.0).contains(&silt) && clay < 12.0
            }
            Self::Silt => silt >= 80.0 && clay < 12.0,
            Self::SandyClayLoam => (20.0..35.0).contains(&clay) && silt < 28.0 && sand > 45.0,
            Self::ClayLoam => (27.0..40.0).contains(&clay) && sand > 20.0 && sand <= 45.0,
            Self::SiltyClayLoam => (27.0..40.0).contains(&clay) && sand <= 20.0,
            Self::SandyClay => clay >= 35.0 && sand > 45.0,
            Self::SiltyClay => clay >= 40.0 && silt >= 40.0,
            Self::Clay => clay >= 40.0 && sand <= 45.0 && silt < 40.0,
        }
    }

    /// The group in the moisture-by-feel table of USDA-NRCS.
    ///
    /// Where silt, sandy clay and silty clay stand is this project's own choice.
    pub const fn group(self) -> TextureGroup {
        match self {
            Self::Sand | Self::LoamySand => TextureGroup::Coarse,
            Self::SandyLoam => TextureGroup::ModeratelyCoarse,
            Self::Loam | Self::SiltLoam | Self::Silt | Self::SandyClayLoam => TextureGroup::Medium,
            Self::ClayLoam
            | Self::SiltyClayLoam
            | Self::SandyClay
            | Self::SiltyClay
            | Self::Clay => TextureGroup::Fine,
        }
    }

    /// The word people use.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Sand => "sand",
            Self::LoamySand => "loamy sand",
            Self::SandyLoam => "sandy loam",
            Self::Loam => "loam",
            Self::SiltLoam => "silt loam",
            Self::Silt => "silt",
            Self::SandyClayLoam => "sandy clay loam",
            Self::ClayLoam => "clay loam",
            Self::SiltyClayLoam => "silty clay loam",
            Self::SandyClay => "sandy clay",
            Self::SiltyClay => "silty clay",
            Self::Clay => "clay",
        }
    }
}
