//! `POST /v1/what-if/settings`

mod calculate;
mod dto;
mod example;

pub(super) use calculate::*;
