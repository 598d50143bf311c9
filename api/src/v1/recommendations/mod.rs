//! `/v1/recommendations`: settings for one planter in one field, revision by revision.
//!
//! `compute` goes from stored rows to the engine, `store` and `steps` keep the revisions, `answer`
//! shows them as JSON and `sheet` as the page in the cab.

mod acknowledge;
mod adapt;
pub mod answer;
pub mod compute;
mod create;
mod data_package;
mod delete;
pub mod differences;
pub mod dto;
mod get;
pub mod goals;
pub mod in_furrow;
pub mod in_shed;
mod issue;
mod list;
pub mod recomputation;
mod revise;
pub mod sheet;
mod sheet_pdf;
pub mod show;
mod show_liquid;
pub mod steps;
pub mod store;
mod task_data;
mod words;
pub mod work;

pub use words::{
    AtHand, CautionCode, CleanerUse, ClosingCriterion, ClosingSpring, CoulterUse, DiscVerdict,
    DriveVerdict, ForceName, FrameStageKind, FrameVerdict, HairpinRisk, HopperFill,
    RecommendationStatus, SoilFrom, Verdict, WallRisk, WrapRisk,
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
        .service(recomputation::recomputation)
        .service(sheet::sheet)
        .service(sheet_pdf::sheet_pdf)
        .service(adapt::adapt)
        .service(task_data::task_data)
        .service(data_package::data_package);
}
