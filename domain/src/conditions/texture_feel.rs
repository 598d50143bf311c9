//! Texture by feel: soil wetted to putty, pressed to a ribbon.

use serde::{Deserialize, Serialize};
use uom::si::length::inch;

use super::texture::TextureClass;
use crate::quantity::Length;

/// How wetted soil feels between the fingers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TextureFeel {
    /// Sand scratches.
    Gritty,
    /// Like flour.
    Smooth,
    /// Neither stands out.
    Neither,
}

/// Ends of the ribbon groups in inches: loams below the first, clays above the second.
const GROUPS_IN: (f64, f64) = (1.0, 2.0);
/// A ribbon shorter than this is none.
const NO_RIBBON_IN: f64 = 0.05;

impl TextureClass {
    /// The class by the ribbon of soil that was wetted to putty, and by its feel.
    ///
    /// No ribbon: loamy sand (a moistened ball holds, sand alone does not). Under 1 in the loams,
    /// 1 to 2 in the clay loams, over 2 in the clays; gritty is the sandy member of the group,
    /// smooth the silty one, neither the plain one (USDA-NRCS and Colorado State guide; Thien 1979
    /// key). Not to be mixed up with the ribbon of soil as found, which says whether to plant.
    pub fn by_feel(ribbon_wetted: Length, feel: TextureFeel) -> Self {
        let ribbon = ribbon_wetted.get::<inch>();
        let (loams, clays) = GROUPS_IN;
        if ribbon < NO_RIBBON_IN {
            return Self::LoamySand;
        }
        // A value at a limit counts as at the limit in any unit.
        let slack = 1e-6;
        match feel {
            TextureFeel::Gritty if ribbon < loams - slack => Self::SandyLoam,
            TextureFeel::Smooth if ribbon < loams - slack => Self::SiltLoam,
            TextureFeel::Neither if ribbon < loams - slack => Self::Loam,
            TextureFeel::Gritty if ribbon <= clays + slack => Self::SandyClayLoam,
            TextureFeel::Smooth if ribbon <= clays + slack => Self::SiltyClayLoam,
            TextureFeel::Neither if ribbon <= clays + slack => Self::ClayLoam,
            TextureFeel::Gritty => Self::SandyClay,
            TextureFeel::Smooth => Self::SiltyClay,
            TextureFeel::Neither => Self::Clay,
        }
    }
}
