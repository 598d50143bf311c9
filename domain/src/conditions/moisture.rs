//! Soil water by feel: what a class stands for, and how much is used up.

use super::report::Moisture;
use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Length, Measured, Ratio};

/// Share of the water a soil can hold for plants that is there: low end, middle, high end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Available {
    /// Low end of the class, 0 to 1.
    pub low: f64,
    /// Middle of the class.
    pub middle: f64,
    /// High end of the class.
    pub high: f64,
}

/// Why a depletion cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum DepletionError {
    /// A soil that holds nothing has no share.
    #[error("the water that the layer can hold must be above 0")]
    HoldsNothing,
    /// More is missing than the layer can hold.
    #[error("{missing} mm missing is more than the {capacity} mm that the layer can hold")]
    MissingMoreThanHeld {
        /// Water missing below field capacity, in mm.
        missing: f64,
        /// Water the layer can hold, in mm.
        capacity: f64,
    },
}

impl Moisture {
    /// What the class stands for (USDA-NRCS feel and appearance; the middle is derived).
    pub const fn available(self) -> Available {
        let (low, middle, high) = match self {
            Self::Dry => (0.0, 0.125, 0.25),
            Self::SlightlyMoist => (0.25, 0.375, 0.5),
            Self::Moist => (0.5, 0.625, 0.75),
            Self::Wet => (0.75, 0.875, 1.0),
            Self::AtCapacity => (1.0, 1.0, 1.0),
        };
        Available { low, middle, high }
    }

    /// The word people use.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::SlightlyMoist => "slightly moist",
            Self::Moist => "moist",
            Self::Wet => "wet",
            Self::AtCapacity => "at field capacity",
        }
    }
}

/// Share of the available water that is used up: missing / capacity, both for the same layer.
///
/// # Errors
/// When the layer holds nothing, or more is missing than it can hold.
pub fn depletion(capacity: Length, missing: Length) -> Result<(Ratio, Step), DepletionError> {
    let (holds, lacks) = (capacity.si(), missing.si());
    if holds.is_nan() || holds <= 0.0 {
        return Err(DepletionError::HoldsNothing);
    }
    if lacks.is_nan() || lacks > holds * (1.0 + 1e-9) {
        return Err(DepletionError::MissingMoreThanHeld {
            missing: lacks * 1000.0,
            capacity: holds * 1000.0,
        });
    }
    let share = lacks / holds;
    let step = Step {
        step: "share of the available water used up".into(),
        formula: "SMD / AWC".into(),
        inputs: vec![
            Input::new("SMD", lacks * 1000.0, "mm"),
            Input::new("AWC", holds * 1000.0, "mm"),
        ],
        value: share * 100.0,
        unit: "%".into(),
        low: None,
        high: None,
        source: sources::NRCS_FEEL.into(),
        mark: Mark::Derived,
    };
    Ok((Ratio::from_si(share), step))
}
