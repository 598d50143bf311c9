//! Exchange with the records systems that growers have already.

pub mod crops;
pub mod files;
pub mod forms;
pub mod geometry;
pub mod intake;
pub mod pull;
