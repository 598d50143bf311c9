//! Every force with its range, how hard the soil is, and what the source gives.

use domain::planter::PointCheck;
use domain::settings::{ForceRange, SettableForce, SoilUsed, SourceCheck, SourceKnown};
use serde::Serialize;
use utoipa::ToSchema;

use super::SetOnPlanter;
use super::example_at;
use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::{ForceName, SoilFrom};

/// A force on one row with its range.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/forces/0"))))]
pub struct ForceOut {
    /// Which force.
    pub force: ForceName,
    /// 5 % of what it may be; the likely figure where that is lower still.
    pub low: Quantity,
    /// The figure that the sum of the trace uses.
    pub likely: Quantity,
    /// 95 % of what it may be; the likely figure where that is higher still.
    pub high: Quantity,
}

impl ForceOut {
    /// In these units.
    pub fn of(range: &ForceRange, show: Show) -> Self {
        Self {
            force: range.force.into(),
            low: show.down_force(range.low),
            likely: show.down_force(range.likely),
            high: show.down_force(range.high),
        }
    }
}

/// How much harder than moist soil this soil is to enter, and how that is known.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/soil"))))]
pub struct SoilOut {
    /// The observation that was used.
    pub from: SoilFrom,
    /// Why this one.
    #[schema(example = "a penetrometer reading: it goes before everything else")]
    pub why: &'static str,
    /// The likely factor; 1 in moist soil.
    #[schema(example = 1.0)]
    pub factor: f64,
    /// Low end of the factor.
    #[schema(example = 0.8)]
    pub low: f64,
    /// High end of the factor.
    #[schema(example = 1.3)]
    pub high: f64,
}

impl SoilOut {
    pub(super) fn of(soil: SoilUsed) -> Self {
        Self {
            from: soil.from.into(),
            why: soil.from.words(),
            factor: share(soil.factor.likely),
            low: share(soil.factor.low),
            high: share(soil.factor.high),
        }
    }
}

/// What the down-force source gives beside what is needed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/source"))))]
pub struct SourceOut {
    /// What the setting gives more than the likely figures ask for, hopper half full; negative when
    /// it gives less.
    pub over_need: Quantity,
    /// The least setting not below what an empty hopper needs; absent when none is within reach, or
    /// no settings are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub when_empty: Option<SettableOut>,
    /// A force that was decided on and can't be set: the nearest that can is advised.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub decided: Option<Quantity>,
    /// How the forces of the source are known, and how far that carries.
    pub known: SourceKnownOut,
}

/// A force that can be set.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "per_row": {"value": 400, "unit": "[lbf_av]"},
    "setting": {"kind": "notch", "label": "4"},
    "over": {"value": 132, "unit": "[lbf_av]"}
})))]
pub struct SettableOut {
    /// The force on each row.
    pub per_row: Quantity,
    /// How to set it.
    pub setting: SetOnPlanter,
    /// What it gives more than is needed.
    pub over: Quantity,
}

impl SettableOut {
    fn of(given: &SettableForce, show: Show) -> Self {
        Self {
            per_row: show.down_force(given.per_row),
            setting: SetOnPlanter::of(&given.setting, show),
            over: show.down_force(given.over),
        }
    }
}

/// How the forces of a source are known.
#[derive(Debug, Serialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[schema(examples(json!(example_at("/settings/down_force/source/known"))))]
pub enum SourceKnownOut {
    /// There is none: the weight of the unit alone.
    WeightOnly {},
    /// As printed for the notches; the real forces may differ.
    Printed {
        /// The lightest notch.
        least: Quantity,
        /// The heaviest notch.
        most: Quantity,
    },
    /// By a calibration, which is never carried beyond its ends.
    Calibrated {
        /// Force at the lowest measured pressure.
        least: Quantity,
        /// Force at the highest measured pressure.
        most: Quantity,
        /// What a point between the others says; absent with two points, which always fit.
        #[serde(skip_serializing_if = "Option::is_none")]
        #[schema(nullable = false)]
        check: Option<PointCheckOut>,
    },
    /// From bore and rod of the cylinder, without friction.
    BoreAndRod {
        /// Force at the greatest working pressure.
        most: Quantity,
    },
    /// Nobody calibrated it.
    NotCalibrated {},
}

/// What a point of a calibration says about the line through the others.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "pressure": {"value": 30, "unit": "[psi]"},
    "measured": {"value": 190, "unit": "[lbf_av]"},
    "expected": {"value": 220, "unit": "[lbf_av]"},
    "off_by": {"value": -30, "unit": "[lbf_av]"},
    "allowed": {"value": 21, "unit": "[lbf_av]"},
    "agrees": false
})))]
pub struct PointCheckOut {
    /// The pressure of the point that lies furthest off.
    pub pressure: Quantity,
    /// The force that was measured there.
    pub measured: Quantity,
    /// The force that the line through the other points gives.
    pub expected: Quantity,
    /// What was measured less what was expected.
    pub off_by: Quantity,
    /// How far they may lie apart.
    pub allowed: Quantity,
    /// Whether the point agrees. Where it does not, measure again: a hose may leak, a bag may rub,
    /// or a reading was noted wrongly.
    pub agrees: bool,
}

impl PointCheckOut {
    /// In these units.
    pub fn of(check: PointCheck, show: Show) -> Self {
        Self {
            pressure: show.pressure(check.pressure),
            measured: show.down_force(check.measured),
            expected: show.down_force(check.expected),
            off_by: show.down_force(check.off_by()),
            allowed: show.down_force(check.allowed),
            agrees: check.agrees,
        }
    }
}

impl SourceOut {
    pub(super) fn of(check: &SourceCheck, show: Show) -> Self {
        Self {
            over_need: show.down_force(check.over_need),
            when_empty: check.when_empty.as_ref().map(|it| SettableOut::of(it, show)),
            decided: check.decided.map(|force| show.down_force(force)),
            known: SourceKnownOut::of(&check.known, show),
        }
    }
}

impl SourceKnownOut {
    fn of(known: &SourceKnown, show: Show) -> Self {
        let force = |force| show.down_force(force);
        match *known {
            SourceKnown::WeightOnly => Self::WeightOnly {},
            SourceKnown::Printed { least, most } => {
                Self::Printed { least: force(least), most: force(most) }
            }
            SourceKnown::Calibrated { least, most, check } => Self::Calibrated {
                least: force(least),
                most: force(most),
                check: check.map(|check| PointCheckOut::of(check, show)),
            },
            SourceKnown::BoreAndRod { most } => Self::BoreAndRod { most: force(most) },
            SourceKnown::NotCalibrated => Self::NotCalibrated {},
        }
    }
}
