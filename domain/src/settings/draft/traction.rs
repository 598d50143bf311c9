//! What a tractor makes of its power on different ground (University of Arizona).

use serde::{Deserialize, Serialize};

/// How a tractor puts its power down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TractorKind {
    /// Rear wheels drive.
    TwoWheel,
    /// Rear wheels drive, smaller front wheels help.
    FrontAssist,
    /// Four equal wheels drive.
    FourWheel,
    /// Tracks.
    Tracks,
}

/// The ground under the tractor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TractionSurface {
    /// Concrete.
    Concrete,
    /// Firm soil, such as no-till ground that bears.
    Firm,
    /// Tilled soil.
    Tilled,
    /// Soft soil.
    Soft,
}

impl TractorKind {
    /// Every kind.
    pub const ALL: [Self; 4] = [Self::TwoWheel, Self::FrontAssist, Self::FourWheel, Self::Tracks];

    /// Power at the drawbar for the power at the PTO.
    pub const fn drawbar_share(self, surface: TractionSurface) -> f64 {
        let [concrete, firm, tilled, soft] = match self {
            Self::TwoWheel => [0.87, 0.72, 0.67, 0.55],
            Self::FrontAssist => [0.87, 0.77, 0.73, 0.65],
            Self::FourWheel => [0.88, 0.78, 0.75, 0.70],
            Self::Tracks => [0.88, 0.79, 0.80, 0.78],
        };
        match surface {
            TractionSurface::Concrete => concrete,
            TractionSurface::Firm => firm,
            TractionSurface::Tilled => tilled,
            TractionSurface::Soft => soft,
        }
    }
}

impl TractionSurface {
    /// Every surface, the firmest first.
    pub const ALL: [Self; 4] = [Self::Concrete, Self::Firm, Self::Tilled, Self::Soft];

    /// Slip at which a tractor pulls with the best efficiency, percent: low and high end.
    pub const fn best_slip(self) -> (f64, f64) {
        match self {
            Self::Concrete => (4.0, 8.0),
            Self::Firm => (8.0, 10.0),
            Self::Tilled => (11.0, 13.0),
            Self::Soft => (14.0, 16.0),
        }
    }
}
