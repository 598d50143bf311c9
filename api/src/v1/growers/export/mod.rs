//! All that is known of a grower, in one document.

pub mod dto;
mod external;
mod gather;
mod get;
mod reach;
mod shed;
mod stands;
mod trials;

pub(super) use get::get_export;
