//! `/v1/fields/{id}/resistance`: what digs taught about a field, planter by planter.

pub mod dto;
mod get;

pub(super) use get::get_resistance;
