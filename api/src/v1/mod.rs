//! Version 1 of the API: one folder a resource, one file an operation.

pub mod accounts;
pub mod adjustments;
pub mod author;
pub mod calibrations;
pub mod coefficient_sets;
pub mod coefficients;
pub mod conditions;
pub mod dig_checks;
pub mod dig_plan;
pub mod dig_rules;
pub mod farms;
pub mod fields;
pub mod growers;
pub mod learned;
pub mod mirror;
pub mod plain;
pub mod planters;
pub mod recommendations;
pub mod sessions;
pub mod timeline;
pub mod trace;
pub mod units;
pub mod what_if;
