//! `/v1/farms`: the farms of a grower.

mod create;
mod delete;
pub mod dto;
mod get;
mod list;
pub mod store;
mod update;

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
