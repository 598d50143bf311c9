//! `/v1/coefficients`, `/v1/units` and `/v1/bounds`: the numbers in force.

mod bounds;
pub mod dto;
mod list;
mod units;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list).service(units::units).service(bounds::bounds);
}
