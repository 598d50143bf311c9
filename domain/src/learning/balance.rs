//! The balance of dug rows, reduced to what the learning needs.

use serde::{Deserialize, Serialize};

/// The balance of a row while it was planted, at the depth that the lever asks for. N and m.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DugBalance {
    /// Everything but opener and coulter: weights, seed, down force, arms, less cleaner, closing
    /// and what speed costs. The load is this less `metal` times the resistance factor.
    pub pushes: f64,
    /// Likely reaction of opener and coulter.
    pub metal: f64,
    /// How steeply `metal` grows at that depth, against the opener alone: 1 without a coulter.
    pub steepness: f64,
    /// Furrow depth that the lever asks for.
    pub stop: f64,
    /// The loads at which wheels begin to feel otherwise.
    pub edges: WheelEdges,
}

/// The loads at which gauge wheels begin to carry and begin to lock, N.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WheelEdges {
    /// Below this they spin free.
    pub free: f64,
    /// Above this they cannot be turned: what the soil bears.
    pub locked: f64,
}

impl DugBalance {
    /// Load at a resistance factor, N; negative when the unit rides out.
    pub fn load(&self, factor: f64) -> f64 {
        self.pushes - self.metal * factor
    }
}
