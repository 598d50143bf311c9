//! `/v1/planters/{id}/wear-limits`: what the manual says of the parts of a planter, and the limits
//! that count.

pub mod dto;
mod get;
pub mod limit_out;
mod parse;
mod put;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get).service(put::put);
}
