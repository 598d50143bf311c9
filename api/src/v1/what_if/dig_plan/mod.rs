//! `/v1/what-if/dig-plan`: which rows to dig, and how many seeds on each.

mod calculate;
mod dto;
mod parse;

pub(super) use calculate::*;
