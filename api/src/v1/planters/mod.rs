//! `/v1/planters`: the planters of a grower.

mod create;
mod delete;
pub mod dto;
mod get;
mod list;
pub mod makeup;
mod parse;
pub mod store;
mod update;

pub use makeup::{ClosingPair, CoulterMount, Makeup, RowCleaner};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete);
}
