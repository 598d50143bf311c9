//! `/v1/fields/{id}/conditions` and `/v1/conditions`: what somebody saw and felt in a field.

pub mod contradiction;
mod create;
pub mod dto;
mod get;
mod list;
mod newest;
pub mod nitrogen;
mod parse;
pub mod pests;
pub mod store;
pub mod termination;
mod words;

pub use words::{
    BallTest, BridgeRisk, ContradictionCode, CoverSpecies, CoverStage, CoverState, Crop, Moisture,
    Pest, PestLevel, PreviousCrop, ResidueFeel, ResidueSpread, RollDirection, RowPosition,
    StrengthClass, TerminationVerdict, TerminationZone, TextureFeel, TieUp, TossTest,
};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(newest::newest)
        .service(get::get);
}
