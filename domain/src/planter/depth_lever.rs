//! The depth lever: which notch gives which depth.

use serde::{Deserialize, Serialize};

use crate::quantity::{Length, Measured};

/// A depth lever with even steps.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DepthLever {
    /// Depth at the first notch with new discs.
    pub first: Length,
    /// Depth added by each further notch.
    pub step: Length,
    /// How many notches there are.
    pub notches: u8,
}

/// A notch and the depth it gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LeverPosition {
    /// The notch, counted from 1 at the shallow end.
    pub notch: u8,
    /// The depth it gives with the discs as they are.
    pub depth: Length,
}

impl DepthLever {
    /// The notch nearest to a furrow depth, allowing for the depth lost to wear.
    ///
    /// Of two notches equally near the deeper one is taken: seed left dry or exposed is the worse
    /// mistake.
    pub fn nearest(&self, depth: Length, lost_to_wear: Length) -> Option<LeverPosition> {
        let real =
            |notch: u8| self.first.si() + self.step.si() * f64::from(notch - 1) - lost_to_wear.si();
        let off = |notch: &u8| ((real(*notch) - depth.si()).abs() * 1e6).round();
        (1..=self.notches)
            .rev()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .map(|notch| LeverPosition { notch, depth: Length::from_si(real(notch)) })
    }
}
