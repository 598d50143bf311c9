//! `/v1/growers`: the clients of the practice.

mod create;
mod delete;
pub mod dto;
pub mod erasure;
pub mod export;
mod get;
mod list;
pub mod store;
mod task_data;
mod update;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete)
        .service(export::get_export)
        .service(task_data::task_data)
        .service(erasure::erase);
}
