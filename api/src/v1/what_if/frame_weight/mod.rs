//! `/v1/what-if/frame-weight`: what is left on the wheels of the frame.

mod calculate;
mod dto;

pub(super) use calculate::*;
