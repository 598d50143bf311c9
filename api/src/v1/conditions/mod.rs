//! `/v1/fields/{id}/conditions` and `/v1/conditions`: what somebody saw and felt in a field.

mod create;
pub mod dto;
mod get;
mod list;
mod newest;
mod parse;
pub mod store;
mod words;

pub use words::{BallTest, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop, ResidueFeel};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(newest::newest)
        .service(get::get);
}
