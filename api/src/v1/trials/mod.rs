//! `/v1/trials`: what is tried, laid out so that it means something, and what it says.

pub mod analysis;
mod close;
mod create;
mod delete;
pub mod design;
pub mod dto;
mod example;
mod get;
mod laid_out;
mod list;
mod map;
pub mod measured;
mod parse;
pub mod plots;
mod replications;
mod start;
pub mod store;
mod update;
mod words;

pub use words::{BetterWay, PassHeading, ResponseKind, TrialOrder, TrialStatus, TriedKind};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete)
        .service(start::start)
        .service(close::close)
        .service(map::map);
    plots::routes(operations);
    analysis::routes(operations);
}
