//! The personal data of a grower goes; what the practice's statistics rest on stays without a name.

mod carry_out;
mod create;
mod delete;
pub mod dto;
mod external;
mod reach;
mod shed;
mod stands;
mod strip;
mod trials;

pub(super) use create::erase;
