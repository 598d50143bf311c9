//! The words of trials on the wire.

use domain::trial;
use domain::trial::analysis;

use crate::entities::trials::Status;
use crate::v1::mirror::mirror;

mirror! {
    /// What is tried: a part or a setting.
    TriedKind = trial::Trying {
        ClosingWheel RowCleaner Coulter DownForce Speed Depth SeedingRate InFurrow Other
    }

    /// The way along a pass: `there`, away from the side where one begins, or `back` to it.
    PassHeading = trial::Heading { There Back }

    /// Which way is better: `higher` or `lower` figures, or `neither` in itself.
    BetterWay = analysis::Better { Higher Lower Neither }
}

mirror! {
    /// Where a trial stands: a `draft` can be changed; a `running` one is frozen and takes what is
    /// found on its plots; a `closed` one takes nothing more.
    TrialStatus = Status { Draft Running Closed }
}

/// Who decides what lies where: chance (`randomised`), or the order of the list (`as_listed`), which
/// the verdict will say.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Default,
    serde::Serialize,
    serde::Deserialize,
    utoipa::ToSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum TrialOrder {
    /// Drawn, within blocks.
    #[default]
    Randomised,
    /// As listed.
    AsListed,
}

/// What is measured on the plots. `other` is named by yourself.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize, utoipa::ToSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum ResponseKind {
    /// Plants up for the seed sown, %.
    Emergence,
    /// Seeds within tolerance of the depth, %.
    DepthInTarget,
    /// Furrow that is closed, %.
    FurrowClosed,
    /// Standard deviation of the distances between plants.
    SpacingSpread,
    /// Yield, all plots at one moisture.
    Yield,
    /// Something of your own.
    Other,
}

impl ResponseKind {
    /// The word on the wire.
    pub fn code(self) -> &'static str {
        match self {
            Self::Emergence => "emergence",
            Self::DepthInTarget => "depth_in_target",
            Self::FurrowClosed => "furrow_closed",
            Self::SpacingSpread => "spacing_spread",
            Self::Yield => "yield",
            Self::Other => "other",
        }
    }
}
