//! `/v1/recommendations`: settings for one planter in one field, revision by revision.
//!
//! `compute` goes from stored rows to the engine, `store` and `steps` keep the revisions, `answer`
//! shows them as JSON and `sheet` as the page in the cab.

mod acknowledge;
pub mod answer;
pub mod compute;
mod create;
mod delete;
pub mod dto;
mod get;
pub mod goals;
mod issue;
mod list;
mod revise;
mod sheet;
pub mod show;
pub mod steps;
pub mod store;
mod words;

pub use words::{
    CautionCode, CleanerUse, ClosingSpring, CoulterUse, DiscVerdict, FrameVerdict, HairpinRisk,
    HopperFill, RecommendationStatus, Verdict, WrapRisk,
};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(issue::issue)
        .service(acknowledge::acknowledge)
        .service(revise::revise)
        .service(delete::delete)
        .service(sheet::sheet);
}
