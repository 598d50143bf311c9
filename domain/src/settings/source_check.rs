//! What the down-force source gives beside what is needed: notches between which the need falls,
//! what the check point of a calibration says, what nobody measured.

use serde::{Deserialize, Serialize};

use crate::planter::{DownForce, PointCheck, Setting};
use crate::provenance::Coefficients;
use crate::quantity::{Force, Measured};

/// How well the source fits the need.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SourceCheck {
    /// What the setting gives more than the likely figures ask for, hopper half full; negative when
    /// it gives less.
    pub over_need: Force,
    /// The least setting not below what an empty hopper needs; absent when there is none within
    /// reach, or the source has no known settings.
    pub when_empty: Option<SettableForce>,
    /// A force that was decided on and can't be set; the nearest one is used instead.
    pub decided: Option<Force>,
    /// What was measured about the source.
    pub known: SourceKnown,
}

/// A force that can be set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SettableForce {
    /// The force on each row.
    pub per_row: Force,
    /// How to set it.
    pub setting: Setting,
    /// What it gives more than is needed.
    pub over: Force,
}

/// What is known about a source, and how far that carries.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum SourceKnown {
    /// No source: the weight of the unit alone.
    WeightOnly,
    /// Forces as printed for the notches; the real ones may differ.
    Printed {
        /// The lightest notch.
        least: Force,
        /// The heaviest notch.
        most: Force,
    },
    /// A calibration, which is never carried beyond its ends.
    Calibrated {
        /// Force at the lowest measured pressure.
        least: Force,
        /// Force at the highest measured pressure.
        most: Force,
        /// What a point between the others says; absent with two points, which always fit.
        check: Option<PointCheck>,
    },
    /// Bore and rod of the cylinder, without friction.
    BoreAndRod {
        /// Force at the greatest working pressure.
        most: Force,
    },
    /// Nothing: nobody calibrated it.
    NotCalibrated,
}

/// The forces that the source is judged by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Needs {
    /// Likely need with a half-full hopper.
    pub half: Force,
    /// Likely need with an empty hopper.
    pub empty: Force,
    /// What is set.
    pub set: Force,
    /// What was decided on.
    pub decided: Option<Force>,
}

/// Judges a source.
pub(super) fn source_check(source: &DownForce, needs: Needs, k: &Coefficients) -> SourceCheck {
    let Needs { half, empty, set, decided } = needs;
    let apart = |force: &Force| (*force - set).si().abs() > 5.0;
    SourceCheck {
        over_need: set - half,
        when_empty: when_empty(source, empty),
        decided: decided.filter(apart),
        known: known(source, k),
    }
}

fn when_empty(source: &DownForce, need: Force) -> Option<SettableForce> {
    let (_, most) = source.reach()?;
    let per_row = source.settable_not_below(need);
    (need <= most && per_row.si() >= need.si() - 1e-3).then(|| SettableForce {
        per_row,
        setting: source.setting_for(per_row),
        over: per_row - need,
    })
}

fn known(source: &DownForce, k: &Coefficients) -> SourceKnown {
    let calibration = match source {
        DownForce::WeightOnly => return SourceKnown::WeightOnly,
        DownForce::Spring { .. } => {
            let (least, most) = ends(source);
            return SourceKnown::Printed { least, most };
        }
        DownForce::Hydraulic { cylinder, calibration: None, .. } => {
            return SourceKnown::BoreAndRod { most: cylinder.force_at(cylinder.most) };
        }
        DownForce::AirBag { calibration } | DownForce::Hydraulic { calibration, .. } => calibration,
    };
    calibration.as_ref().map_or(SourceKnown::NotCalibrated, |c| {
        let (least, most) = c.force_range();
        SourceKnown::Calibrated { least, most, check: c.check(k.calibration_miss.value) }
    })
}

fn ends(source: &DownForce) -> (Force, Force) {
    let zero = Force::from_si(0.0);
    source.reach().unwrap_or((zero, zero))
}
