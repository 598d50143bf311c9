//! `/v1/attention`: what needs somebody, worked out from what is there.
//!
//! `find` looks for it, a file a kind; `gather` adds what people said (`marks`) and puts it in order;
//! `limits` says since when something counts. The calendar and the digest take the same list.

mod assign;
pub mod dto;
pub mod find;
pub mod gather;
mod key;
pub mod kinds;
pub mod limits;
mod list;
mod marks;
pub mod names;
mod page;
mod snooze;
pub mod tends;
mod touched;
mod unassign;
mod wake;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(list::list)
        .service(snooze::snooze)
        .service(wake::wake)
        .service(assign::assign)
        .service(unassign::unassign);
    limits::routes(operations);
}
