//! `/v1/fields/{id}/yields` and `/v1/yields`: what was harvested from a field.
//!
//! A yield always says how much water it counts, so that wet and dry grain are never mixed up; the
//! dry matter is worked out once (`water`) and kept.

mod create;
mod delete;
pub mod dto;
mod get;
mod list;
mod parse;
pub mod store;
mod update;
mod water;

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
