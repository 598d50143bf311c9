//! `/v1/coefficient-sets`: the figures that recommendations were worked out with.

pub mod dto;
mod get;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get);
}
