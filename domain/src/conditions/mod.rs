//! The field as it is found: soil, moisture, cover, residue, temperature.

mod report;
mod texture;

pub use report::{
    BallTest, Conditions, CoverCrop, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop,
    ResidueFeel, StrengthClass,
};
pub use texture::{TextureClass, TextureGroup};
