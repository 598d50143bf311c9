//! All that is known of a grower, in one document.

pub mod dto;
mod gather;
mod get;

pub(super) use get::get_export;
