//! `/v1/what-if/depth-statistics`: what seed depths say, with rows as units.

mod calculate;
mod dto;
mod parse;
mod parts;
mod steps;

pub(super) use calculate::*;
