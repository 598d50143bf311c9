//! How far a number can be trusted.

use serde::{Deserialize, Serialize};

/// How a number came to be known. Shown beside every number a person sees.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// Measured on this planter or in this field.
    Measured,
    /// Learned from digs on this planter or soil.
    Learned,
    /// Stands in the named source.
    Read,
    /// Calculated from read figures, definitions or statics.
    Derived,
    /// The practice's own figure, with the source the practice named. It stands in for the figure
    /// that ships.
    Own,
    /// General trade knowledge without a citable source.
    CommonPractice,
    /// Recalled from the named source, not seen in it. Never a check value.
    FromMemory,
    /// This project's own design choice.
    Proposal,
    /// A default without independent source. Never a check value.
    Assumption,
}

impl Mark {
    /// All marks, the best known first.
    pub const ALL: [Self; 9] = [
        Self::Measured,
        Self::Learned,
        Self::Read,
        Self::Derived,
        Self::Own,
        Self::CommonPractice,
        Self::FromMemory,
        Self::Proposal,
        Self::Assumption,
    ];

    /// The words a person reads.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Learned => "learned from digs",
            Self::Read => "read in the source",
            Self::Derived => "derived",
            Self::Own => "the practice's own figure",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory, source to confirm",
            Self::Proposal => "this project's own choice",
            Self::Assumption => "assumption",
        }
    }

    /// Whether a test may compare against a number with this mark.
    pub const fn may_check(self) -> bool {
        matches!(self, Self::Read | Self::Derived)
    }
}
