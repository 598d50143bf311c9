//! Trials: which plots get which part, and what they say.

pub mod analysis;
pub mod design;
pub mod layout;
mod notices;
pub mod plot_yield;
mod plots;
pub mod power;
pub mod randomise;
mod row_choice;

pub use design::{Design, DesignFault, Order, Rows, Treatment, Trying, Way};
pub use layout::{Heading, Layout, Plot, lay_out};
pub use notices::not_told_by;

#[cfg(test)]
mod laws;
