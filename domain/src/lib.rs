//! What Dibble knows about planters, fields, seed and digs.
//!
//! This crate is pure: it knows no clock, no randomness, no network, no database. Times, dates and
//! seeds come in as arguments. Every result carries its [`provenance::Trace`]: step, formula,
//! inputs, value, source and mark, so that a reader can follow it by hand.
#![warn(missing_docs)]

pub mod conditions;
pub mod dig;
pub mod in_furrow;
pub mod learning;
pub mod planter;
pub mod provenance;
pub mod quantity;
pub mod season;
pub mod settings;
pub mod stand;
pub mod stats;
pub mod trial;

// The planters and fields of the tests name the crate as everybody else does.
#[cfg(test)]
extern crate self as domain;
