//! `/v1/inspection-items`: the checklist for the shed, front to back.

pub mod dto;
mod list;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list);
}
