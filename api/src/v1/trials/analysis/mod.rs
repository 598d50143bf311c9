//! `/v1/trials/{id}/analysis`: what a trial says, and what it can't say.

pub mod dto;
mod example;
pub mod figures;
mod get;
mod page;
pub mod verdict;
mod work_out;

pub use verdict::verdict;
pub use work_out::{WorkedOut, work_out};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get).service(page::page);
}
