//! `/v1/jobs`: work of the service that follows a change, such as mail. For the lead.

mod delete;
pub mod dto;
mod get;
mod list;
mod retry;
mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list).service(get::get).service(retry::retry).service(delete::delete);
}
