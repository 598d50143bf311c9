//! Statistics, thin over `statrs`: what a dig and a range need.

mod normal;
mod spread;

pub use normal::{phi, phi_inverse};
pub use spread::{Curve, Spread};
