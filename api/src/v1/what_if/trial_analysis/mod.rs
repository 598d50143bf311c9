//! `/v1/what-if/trial-analysis`: what the plots of a trial say, whoever laid it out.

mod calculate;
mod dto;
mod parse;
mod steps;

pub(super) use calculate::*;
