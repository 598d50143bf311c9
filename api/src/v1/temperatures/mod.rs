//! `/v1/farms/{id}/temperatures`: highest and lowest air temperature of each day.
//!
//! A farm has one series, and its fields read it: a day has one row, which names the station it was
//! measured at. What is expected of days to come stands in the same series and gives way to what
//! was measured. `table` reads a file of comma-separated values, `store` puts days in.

mod create;
mod days;
pub mod dto;
mod import;
mod list;
pub mod store;
mod table;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create).service(import::import).service(list::list);
}
