//! Black-box tests of the service over HTTP: one binary, one file a resource.

mod accounts;
mod adjustments;
mod calibrations;
mod coefficients;
mod conditions;
mod demo;
mod dig_checks;
mod errors;
mod farms;
mod fields;
mod growers;
mod health;
mod planters;
mod recommendations;
mod schema;
mod sessions;
mod sheet;
mod timeline;
mod walk;
mod what_if;
