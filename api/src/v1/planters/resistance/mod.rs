//! `/v1/planters/{id}/resistance`: what digs taught about a planter, by soil and cover and by field.

pub mod dto;
mod gather;
mod get;
pub(in crate::v1) mod places;
pub mod say;

pub(super) use get::get_resistance;
