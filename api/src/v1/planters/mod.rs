//! `/v1/planters`: the planters of a grower.

mod create;
mod delete;
pub mod dto;
pub mod frame;
mod get;
mod list;
pub mod makeup;
mod parse;
pub mod resistance;
mod seed_order;
pub mod store;
mod update;

pub(in crate::v1) use parse::{discs, lever};

pub use makeup::{ClosingPair, CoulterMount, Makeup, RowCleaner};
pub(crate) use parse::rows_behind_tyres;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(seed_order::get_seed_order)
        .service(resistance::get_resistance)
        .service(update::update)
        .service(delete::delete);
}
