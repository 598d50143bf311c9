//! `/v1/planters/{id}/calibrations`: down force against pressure, as measured on a planter.

mod create;
pub mod dto;
mod get_newest;
mod list;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create).service(list::list).service(get_newest::get_newest);
}
