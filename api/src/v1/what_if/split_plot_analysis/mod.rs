//! `/v1/what-if/split-plot-analysis`: two factors at once, one on whole plots, one on their parts.

mod calculate;
mod dto;
mod parse;

pub(super) use calculate::*;
