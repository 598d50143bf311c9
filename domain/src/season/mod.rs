//! A season, put together: what each dig says in a few whole numbers, how they add up field by field,
//! and the report that is made from the sums.
//!
//! Everything that is summed is a whole number, so that sums do not depend on the order in which they
//! came about: what is kept up to date is the same, to the last digit, as what is counted anew.

mod build;
mod dig_facts;
mod field;
pub mod report;
mod sums;

pub use build::{Totals, shed_of_digs};
pub use dig_facts::DigFacts;
pub use field::{DigSeen, FieldSeason, Outcome, Planted, Proposed, Revision};
pub use sums::{CauseSums, ClassSums, FieldLook, LoadSums, Sums, WeekSums};
