//! `/v1/fields/{id}/plantings` and `/v1/plantings`: what was planted, when, and with which planter.
//!
//! A planting is what the season rests on: acres that wear a planter, stands that are due, the
//! forecast of emergence. `belongs` checks that planter and recommendation go with the field,
//! `notices` says what is odd but possible.

mod belongs;
mod create;
mod delete;
pub mod dto;
mod get;
mod list;
mod list_of_field;
pub mod need;
mod notices;
mod parse;
pub mod store;
mod update;

pub use notices::PlantingNoticeCode;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list_of_field::list_of_field)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete);
}
