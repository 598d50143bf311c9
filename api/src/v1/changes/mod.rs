//! `/v1/changes`: what changed, in order, for whoever follows the practice.

mod cursor;
pub mod dto;
mod list;

pub use cursor::{open, seal};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list);
}
