//! The field as it is found: soil, moisture, cover, residue, temperature.

mod carbon_to_nitrogen;
mod contradictions;
mod cover;
mod cover_crop;
mod cover_nitrogen;
mod fitness;
mod green_bridge;
mod hairpin;
mod kill_gap;
mod mat;
mod moisture;
mod pests;
mod points;
mod report;
mod residue;
mod soil_makeup;
mod strength;
mod temperature;
mod termination;
mod texture;
mod texture_feel;
mod wrap;

pub use contradictions::{Clash, Contradiction};
pub use cover::{CoverBiomass, NothingClipped, biomass, biomass_from_clip, green_cover_fraction};
pub use cover_crop::{CoverClip, CoverCrop, CoverSpecies, CoverStage, CoverState, RollDirection};
pub use cover_nitrogen::{
    CoverNitrogen, MassRange, NitrogenCredit, TieUp, cover_nitrogen, credits,
};
pub use fitness::{Today, fitness};
pub use green_bridge::{BridgeRisk, GreenBridge, green_bridge};
pub use hairpin::{HairpinRisk, Hairpins, hairpins, is_loose, is_soft, is_tough};
pub use kill_gap::kill_gap;
pub use mat::{MatFraction, mat_fraction};
pub use moisture::{Available, DepletionError, depletion};
pub use pests::{Pest, PestFinding, PestLevel, Pests, pests};
pub use points::RiskPoint;
pub(crate) use points::points_step;
pub use report::{
    BallTest, Conditions, Crop, Moisture, PreviousCrop, ResidueFeel, ResidueSpread, RowPosition,
    StrengthClass, TossTest,
};
pub use residue::{
    ResidueCover, TransectError, cover_from_mass, layered_cover, residue_cover, residue_mass,
    transect_cover,
};
pub use soil_makeup::SoilMakeup;
pub use strength::{OutsideFormula, StrengthSoil, StrengthTerms, cone_base};
pub use temperature::{SeedZone, in_seed_zone, read_elsewhere, seed_zone, under_cover};
pub use termination::{Termination, TerminationVerdict, TerminationZone, termination};
pub use texture::{TextureClass, TextureError, TextureGroup};
pub use texture_feel::TextureFeel;
pub use wrap::{WrapRisk, Wrapping, wrapping};
