//! `/v1/planters/{id}/repairs`: what was mended on a planter.

mod create;
pub mod dto;
mod list;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create).service(list::list);
}
