//! `/v1/fields/{id}/stand-counts` and `/v1/stand-counts`: what was counted after emergence.
//!
//! `observation` and `parse` go from the wire to the domain, `answer` shows what a count says in the
//! caller's units, `notices` what is odd about it. `replant` holds a count against planting again;
//! `due` says which stands are to be counted.

pub mod answer;
mod create;
pub mod due;
mod get;
mod list;
pub mod notices;
pub mod observation;
mod parse;
mod replant;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(replant::compare_replanting);
}
