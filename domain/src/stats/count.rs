//! How many there are, as a number to calculate with.

/// The length of a list as a number. Lists here never reach 2³² entries.
pub fn count(length: usize) -> f64 {
    u32::try_from(length).map_or(f64::from(u32::MAX), f64::from)
}
