//! `/v1/recommendations/{id}/dig-checks` and `/v1/dig-checks`: what was found behind the planter.
//!
//! `observation` and `parse` go from the wire to the domain, `answer` shows what the dig says in
//! the caller's units. `same` finds what came before, `series` the revision that counts, `noticed`
//! says both. A dig that asks for a change also makes an adjustment, in the same transaction; one
//! that asks to go on or to dig more does not, nor does one behind a revision that was replaced.

pub mod answer;
mod beyond;
mod create;
pub mod dto;
mod get;
pub mod in_use;
mod list;
mod meant;
mod noticed;
pub mod observation;
mod parse;
mod same;
mod series;
pub mod store;
mod words;

pub use noticed::teaches;
pub use words::{
    CleanerRunning, DepthSide, DigCause, DigNoticeCode, FindingClass, FindingStrength,
    FurrowBottom, FurrowClosure, FurrowWall, GaugeWheelFeel, ProposalFlag, SetAsideReason,
    SpringMove, WheelPrint,
};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create).service(list::list).service(get::get);
}
