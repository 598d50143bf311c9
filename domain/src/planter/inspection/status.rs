//! How a part was found.

use serde::{Deserialize, Serialize};

/// How a part was found; what is later in the list is worse.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Nobody looked.
    #[default]
    NotChecked,
    /// As it should be.
    Pass,
    /// Still good; look again soon.
    Watch,
    /// To be replaced or mended before the planter goes out.
    Replace,
}

impl Status {
    /// What it says on paper.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NotChecked => "not checked",
            Self::Pass => "pass",
            Self::Watch => "watch",
            Self::Replace => "replace or mend",
        }
    }
}
