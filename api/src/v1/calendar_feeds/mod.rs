//! `/v1/calendar-feeds`: secret addresses under which a calendar program reads what is due.

mod create;
mod delete;
pub mod dto;
mod get;
mod list;
mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(delete::delete);
}
