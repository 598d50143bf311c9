//! `/v1/record-conflicts`: members that a records system and the practice both changed, until a person
//! says which holds.

mod decide;
pub mod dto;
mod get;
mod list;
pub(in crate::v1) mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list).service(get::get).service(decide::decide);
}
