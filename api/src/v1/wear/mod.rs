//! `/v1/planters/{id}/wear`: how fast the parts of a planter wear, and when they will be worn out.
//!
//! `acres` is what was planted, `history` the readings of each row, `dto` the answer.

pub mod acres;
pub mod dto;
mod get;
pub mod history;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get);
}
