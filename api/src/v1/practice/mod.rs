//! `/v1/practice`: the practice of the account that is signed in, and its settings.

mod calendar;
pub mod dto;
mod get;
pub mod store;
mod update;

pub use calendar::{SeasonCalendar, SeasonStart, zone};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get).service(update::update);
}
