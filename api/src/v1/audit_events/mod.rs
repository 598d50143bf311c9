//! `/v1/audit-events`: who did what and when. Written by [`crate::writes`], never changed.

pub mod dto;
mod export;
mod list;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(export::export).service(list::list);
}
