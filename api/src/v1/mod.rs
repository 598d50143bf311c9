//! Version 1 of the API: one folder a resource, one file an operation.

pub mod accounts;
pub mod author;
pub mod calibrations;
pub mod coefficients;
pub mod conditions;
pub mod farms;
pub mod fields;
pub mod growers;
pub mod mirror;
pub mod planters;
pub mod recommendations;
pub mod sessions;
pub mod trace;
pub mod units;
pub mod what_if;
