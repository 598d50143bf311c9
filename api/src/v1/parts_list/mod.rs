//! `/v1/parts-list`: what to buy or to have done before planters go out.

pub mod dto;
mod gather;
mod get;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get);
}
