//! When a cover crop has to be ended.

use serde::{Deserialize, Serialize};

/// A zone of the guidelines for ending cover crops, from dry to humid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TerminationZone {
    /// Zone 1, the driest.
    One,
    /// Zone 2.
    Two,
    /// Zone 3.
    Three,
    /// Zone 4, the most humid.
    Four,
}
