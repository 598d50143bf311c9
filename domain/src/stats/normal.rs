//! The standard normal distribution.

use statrs::function::erf::{erfc, erfc_inv};

/// Share of a standard normal variable below `z`.
pub fn phi(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}

/// The `z` below which a share `p` lies. Infinite at 0 and 1.
pub fn phi_inverse(p: f64) -> f64 {
    -std::f64::consts::SQRT_2 * erfc_inv(2.0 * p)
}
