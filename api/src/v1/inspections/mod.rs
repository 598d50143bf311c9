//! `/v1/planters/{id}/inspections`: planters in the shed.
//!
//! `dto` is what is entered, `check` what is refused, `shed` all that is known of a planter in the
//! shed, `show` how it is judged, `open` what is still to be replaced.

mod adopt;
mod check;
mod codes;
mod create;
pub mod dto;
mod found;
mod get;
mod list;
pub mod open;
pub mod opener;
mod page;
pub mod refresh;
pub mod shed;
pub mod show;
pub mod store;

pub use codes::{InspectionItemCode, InspectionStatus};
pub(in crate::v1) use found::{area as show_area, read as read_measure, shown as show_measure};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(adopt::adopt)
        .service(page::page);
}
