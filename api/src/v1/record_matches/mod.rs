//! `/v1/record-matches`: records of records systems that wait until a person says which object of ours
//! they are, or that they are new.

mod decide;
pub mod dto;
mod get;
mod list;
mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list).service(get::get).service(decide::decide);
}
