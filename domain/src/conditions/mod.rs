//! The field as it is found: soil, moisture, cover, residue, temperature.

mod cover;
mod cover_crop;
mod fitness;
mod hairpin;
mod mat;
mod moisture;
mod pests;
mod report;
mod residue;
mod soil_makeup;
mod strength;
mod temperature;
mod termination;
mod texture;
mod wrap;

pub use cover::{CoverBiomass, NothingClipped, biomass, biomass_from_clip, green_cover_fraction};
pub use cover_crop::{CoverClip, CoverCrop, CoverSpecies, CoverStage, CoverState};
pub use fitness::{Today, fitness};
pub use hairpin::{HairpinRisk, Hairpins, hairpins, is_soft, is_tough};
pub use mat::{MatFraction, mat_fraction};
pub use moisture::{Available, DepletionError, depletion};
pub use pests::Pests;
pub use report::{
    BallTest, Conditions, Crop, Moisture, PreviousCrop, ResidueFeel, ResidueSpread, RowPosition,
    StrengthClass,
};
pub use residue::{
    ResidueCover, TransectError, cover_from_mass, layered_cover, residue_cover, residue_mass,
    transect_cover,
};
pub use soil_makeup::SoilMakeup;
pub use strength::{OutsideFormula, StrengthSoil, StrengthTerms, cone_base};
pub use temperature::{SeedZone, in_seed_zone, seed_zone, under_cover};
pub use termination::TerminationZone;
pub use texture::{TextureClass, TextureError, TextureGroup};
pub use wrap::{WrapRisk, Wrapping, wrapping};
