//! `/v1/external/{system}`: growers, farms, fields, planters and yields by the ids that a records system
//! gives them.
//!
//! Their ids are any text of one line. In a path they stand percent-encoded, a slash as `%2F`; where
//! something on the way spoils that, or an id is `.` or `..`, a batch has them in its body.

mod batch;
pub mod dto;
mod farms;
mod fields;
mod growers;
mod list;
mod list_ids;
mod path;
mod planters;
mod put;
pub mod said;
mod store;
mod untie;
mod yields;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list_ids::list_ids).service(list::list).service(batch::batch);
    growers::routes(operations);
    farms::routes(operations);
    fields::routes(operations);
    planters::routes(operations);
    yields::routes(operations);
}
