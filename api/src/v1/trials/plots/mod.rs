//! `/v1/trials/{id}/plots`: what was found on the plots.

mod create;
pub mod dto;
mod entry;
mod links;
mod list;
mod parse;
mod said;
pub mod state;
mod store;

use crate::operations::Operations;

pub use entry::ValuesContent;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create).service(list::list);
}
