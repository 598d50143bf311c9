//! What to look at on each row besides the depth, in the order in which it is met.

use serde::{Deserialize, Serialize};

use super::bar::Bar;
use crate::provenance::Text;

/// One thing to look at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LookAt {
    /// What it is.
    pub what: Text,
    /// What it may show.
    pub tell: Text,
}

const ALL: &[(&str, &str)] = &[
    ("gauge wheels, planter down", "spin free, turn with effort, or locked"),
    ("how the row cleaner runs", "just brushing, below the surface, or wrapped"),
    ("print of the gauge wheels beside the furrow", "none, light, or deep"),
    ("closing", "closed, open, or packed too hard"),
    ("wall of the furrow", "crumbly, smooth, or shiny"),
    ("bottom of the furrow", "one clean V, or a W"),
    ("residue in the furrow", "tucked in, or none"),
    ("seed", "on the bottom, or above it"),
    ("soil at the seed", "moist, or dry"),
    ("spacing", "distance from seed to seed"),
];

/// What is looked at only where it is fitted.
const CLEANER: &str = "how the row cleaner runs";
/// What is enough where only the load is open.
const LOAD: [&str; 2] =
    ["gauge wheels, planter down", "print of the gauge wheels beside the furrow"];

/// Everything that a dig can tell on this planter.
pub(super) fn everything(bar: &Bar<'_>) -> Vec<LookAt> {
    looks(|what| bar.cleaners || what != CLEANER)
}

/// What tells the load.
pub(super) fn load() -> Vec<LookAt> {
    looks(|what| LOAD.contains(&what))
}

fn looks(wanted: impl Fn(&str) -> bool) -> Vec<LookAt> {
    ALL.iter()
        .filter(|(what, _)| wanted(what))
        .map(|(what, tell)| LookAt { what: Text::Borrowed(*what), tell: Text::Borrowed(*tell) })
        .collect()
}
