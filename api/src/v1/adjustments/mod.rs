//! `/v1/adjustments`: the one change that a dig proposes, until the advisor has decided.
//!
//! `apply` puts an accepted change over the goals of the recommendation, `lines` keeps the
//! instructions that the engine has no setting for, and `store` makes decision and next revision in
//! one transaction.

mod accept;
mod apply;
mod decided;
mod decline;
pub mod dto;
mod get;
mod lines;
mod list;
mod open;
pub mod store;
mod words;

pub use words::AdjustmentStatus;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(list::list)
        .service(get::get)
        .service(accept::accept)
        .service(decline::decline);
}
