//! The sections of the report that rest on rows of their own.

pub mod of;
pub mod stands;
pub mod trials;
pub mod wear;

pub use of::Of;
