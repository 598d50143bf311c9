//! Version 1 of the API: one folder a resource, one file an operation.

pub mod accounts;
pub mod calibrations;
pub mod farms;
pub mod fields;
pub mod growers;
pub mod planters;
pub mod sessions;
pub mod units;
