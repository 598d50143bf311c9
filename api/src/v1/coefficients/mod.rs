//! `/v1/coefficients`, `/v1/units` and `/v1/bounds`: the numbers in force.

mod bounds;
pub mod change;
pub mod dto;
pub mod figure;
mod get;
mod history;
pub mod in_force;
mod list;
mod named;
pub mod own;
mod reset;
mod set;
pub mod store;
mod units;

pub use in_force::figures_in_force;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(list::list)
        .service(get::get)
        .service(set::set)
        .service(reset::reset)
        .service(history::history)
        .service(units::units)
        .service(bounds::bounds);
}
