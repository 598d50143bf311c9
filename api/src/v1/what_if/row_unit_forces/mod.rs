//! `/v1/what-if/row-unit-forces`: the vertical balance of one row unit.

mod calculate;
mod dto;
mod parse;
mod parts;
mod ranges;
mod steps;

pub(super) use calculate::*;
