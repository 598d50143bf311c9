//! `/v1/planters/{id}/seed-order`: the seed that the fields of a planter need.

mod dto;
mod gather;
mod get;

pub(super) use get::get_seed_order;
