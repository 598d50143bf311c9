//! `POST /v1/what-if/settings`

mod calculate;
mod dto;
mod example;

pub(super) use calculate::*;
pub(in crate::v1) use example::answer as worked_example;
