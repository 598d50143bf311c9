//! `/v1/dig-rules`: the rules by which digs are judged, as a table that a person can read.

pub mod dto;
mod list;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list);
}
