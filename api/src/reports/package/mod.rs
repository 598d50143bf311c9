//! A season as a Data Package (version 2.0): a zip of CSV files and their description, written while
//! it is read, so that a long season needs no more memory than a short one.

mod anonymous;
mod code;
mod descriptor;
mod pack;
mod readme;
mod tally;

pub use self::anonymous::{Anonymized, FEWEST};
pub use self::pack::{Pack, packed};
