//! A depth in the making.

use super::{DepthMove, inches};
use crate::provenance::{Coefficient, Reason};
use crate::quantity::Measured;

/// A depth in the making, in inches.
pub(super) struct Plan {
    pub(super) base: f64,
    pub(super) base_from: Coefficient,
    pub(super) moves: Vec<DepthMove>,
    pub(super) safe: (f64, f64),
    pub(super) because: Vec<Reason>,
    pub(super) watch: Vec<Reason>,
}

impl Plan {
    pub(super) fn from(k: &Coefficient, reason: Reason) -> Self {
        Self {
            base: k.value,
            base_from: k.clone(),
            moves: Vec::new(),
            safe: (k.low, k.high),
            because: vec![reason],
            watch: Vec::new(),
        }
    }

    pub(super) fn shift(&mut self, by: f64, reason: Reason) {
        self.moves.push(DepthMove { by: inches(by), because: reason.clone() });
        self.because.push(reason);
    }

    /// All moves together, in inches.
    pub(super) fn moved(&self) -> f64 {
        self.moves.iter().map(|one| one.by.si()).sum::<f64>() / 0.0254
    }
}
