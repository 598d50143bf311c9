//! Black-box tests of the service over HTTP: one binary, one file a resource.

mod accounts;
mod calibrations;
mod coefficients;
mod conditions;
mod errors;
mod farms;
mod fields;
mod growers;
mod health;
mod planters;
mod recommendations;
mod sessions;
mod sheet;
mod walk;
mod what_if;
