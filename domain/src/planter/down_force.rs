//! What adds force to a row unit, and how a force is set on it.

use serde::{Deserialize, Serialize};

use super::calibration::{Calibration, PressureFor};
use super::cylinder::Cylinder;
use crate::quantity::{Force, Measured, Pressure};

/// The down-force source of a planter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum DownForce {
    /// The weight of the unit alone.
    WeightOnly,
    /// Springs with notches, by rising force.
    Spring {
        /// The notches; never empty.
        notches: Vec<Notch>,
    },
    /// Air bags, with a calibration where somebody made one.
    AirBag {
        /// Force against pressure.
        calibration: Option<Calibration>,
    },
    /// A hydraulic cylinder; a calibration wins over bore and rod.
    Hydraulic {
        /// The cylinder.
        cylinder: Cylinder,
        /// Force against pressure.
        calibration: Option<Calibration>,
        /// Greatest force with which it can lift the unit.
        lift: Option<Force>,
    },
}

/// One spring position.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Notch {
    /// What is written on the bracket.
    pub label: String,
    /// The force it gives at the gauge wheels.
    pub force: Force,
}

/// How to set a force on a planter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Setting {
    /// Nothing to set.
    WeightOnly,
    /// A spring notch.
    Notch {
        /// What is written on the bracket.
        label: String,
    },
    /// A pressure.
    Pressure {
        /// Gauge pressure.
        pressure: Pressure,
        /// How the pressure follows from the force, in words.
        from: String,
    },
    /// The up-lift of a hydraulic system.
    Lift {
        /// How much of the unit's weight to take off.
        force: Force,
    },
    /// The force is known, the setting is not: nobody calibrated the bags.
    Uncalibrated,
}

impl DownForce {
    /// Least and greatest force that can be set, where it is known.
    pub fn reach(&self) -> Option<(Force, Force)> {
        let zero = Force::from_si(0.0);
        match self {
            Self::WeightOnly => Some((zero, zero)),
            Self::Spring { notches } => {
                let least = notches.first().map_or(zero, |n| n.force);
                let most = notches.last().map_or(zero, |n| n.force);
                Some((least, most))
            }
            Self::AirBag { calibration } => calibration.as_ref().map(Calibration::force_range),
            Self::Hydraulic { cylinder, calibration, lift } => {
                let least = lift.map_or(0.0, |l| -l.si());
                let (low, most) = calibration.as_ref().map_or_else(
                    || (zero, cylinder.force_at(cylinder.most)),
                    Calibration::force_range,
                );
                Some((Force::from_si(least.min(low.si())), most))
            }
        }
    }

    /// The force nearest to the one wanted that can really be set: a notch, or a pressure that a
    /// gauge shows (whole psi for air, steps of 25 psi for oil).
    pub fn nearest_settable(&self, force: Force) -> Force {
        self.settable(force, Rounding::Nearest)
    }

    /// The greatest force not above the one wanted that can really be set; the least there is where
    /// all of them are above it.
    pub fn settable_not_above(&self, force: Force) -> Force {
        self.settable(force, Rounding::Down)
    }

    /// The least force not below the one wanted that can really be set; the greatest there is where
    /// all of them are below it.
    pub fn settable_not_below(&self, force: Force) -> Force {
        self.settable(force, Rounding::Up)
    }

    fn settable(&self, force: Force, rounding: Rounding) -> Force {
        match self {
            Self::WeightOnly => Force::from_si(0.0),
            Self::Spring { notches } => notch(notches, force, rounding).map_or(force, |n| n.force),
            Self::AirBag { calibration: None } => force,
            Self::AirBag { calibration: Some(c) } => on_gauge(c, force, AIR_STEP, rounding),
            Self::Hydraulic { lift: Some(most), .. } if force.si() < 0.0 => {
                Force::from_si(force.si().max(-most.si()))
            }
            Self::Hydraulic { calibration: Some(c), .. } => on_gauge(c, force, OIL_STEP, rounding),
            Self::Hydraulic { cylinder, calibration: None, .. } => {
                let steps = rounding.of(cylinder.pressure_for(force).si() / OIL_STEP);
                let pressure = (steps * OIL_STEP).clamp(0.0, cylinder.most.si());
                cylinder.force_at(Pressure::from_si(pressure))
            }
        }
    }

    /// How to set a force that lies within reach.
    pub fn setting_for(&self, force: Force) -> Setting {
        match self {
            Self::WeightOnly => Setting::WeightOnly,
            Self::Spring { notches } => notch(notches, force, Rounding::Nearest)
                .map_or(Setting::WeightOnly, |n| Setting::Notch { label: n.label.clone() }),
            Self::AirBag { calibration: None } => Setting::Uncalibrated,
            Self::Hydraulic { lift: Some(_), .. } if force.si() < 0.0 => {
                Setting::Lift { force: Force::from_si(-force.si()) }
            }
            Self::AirBag { calibration: Some(c) }
            | Self::Hydraulic { calibration: Some(c), .. } => calibrated(c, force),
            Self::Hydraulic { cylinder, calibration: None, .. } => Setting::Pressure {
                pressure: cylinder.pressure_for(force),
                from: "bore and rod of the cylinder; calibrate to be sure".to_owned(),
            },
        }
    }
}

/// One psi, and 25 psi, in Pa: what a gauge on air and on oil can be read to.
const AIR_STEP: f64 = 6_894.757_293_168;
const OIL_STEP: f64 = 25.0 * AIR_STEP;

/// To which settable force a wanted one is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rounding {
    Nearest,
    Down,
    Up,
}

impl Rounding {
    /// A count of steps; what lies on a step but for the last binary digits stays there.
    fn of(self, steps: f64) -> f64 {
        let whole = match self {
            Self::Nearest => steps.round(),
            Self::Down => (steps + 1e-6).floor(),
            Self::Up => (steps - 1e-6).ceil(),
        };
        whole + 0.0 // a negative zero becomes a plain one
    }
}

fn on_gauge(calibration: &Calibration, force: Force, step: f64, rounding: Rounding) -> Force {
    let pressure = match calibration.pressure_for(force) {
        PressureFor::Within(p) => p,
        PressureFor::BelowRange { least } => least.pressure,
        PressureFor::AboveRange { most } => most.pressure,
    };
    let (least, most) = calibration.pressure_range();
    let rounded = (rounding.of(pressure.si() / step) * step).clamp(least.si(), most.si());
    calibration.force_at(Pressure::from_si(rounded))
}

fn notch(notches: &[Notch], force: Force, rounding: Rounding) -> Option<&Notch> {
    let by_force = |a: &&Notch, b: &&Notch| a.force.si().total_cmp(&b.force.si());
    let off = |n: &&Notch| (n.force.si() - force.si()).abs();
    let slack = 1e-6;
    match rounding {
        // Of two notches equally near the lighter one is taken.
        Rounding::Nearest => notches.iter().min_by(|a, b| off(a).total_cmp(&off(b))),
        Rounding::Down => notches
            .iter()
            .filter(|n| n.force.si() <= force.si() + slack)
            .max_by(by_force)
            .or_else(|| notches.iter().min_by(by_force)),
        Rounding::Up => notches
            .iter()
            .filter(|n| n.force.si() >= force.si() - slack)
            .min_by(by_force)
            .or_else(|| notches.iter().max_by(by_force)),
    }
}

fn calibrated(calibration: &Calibration, force: Force) -> Setting {
    let pressure = match calibration.pressure_for(force) {
        PressureFor::Within(pressure) => pressure,
        PressureFor::BelowRange { least } => least.pressure,
        PressureFor::AboveRange { most } => most.pressure,
    };
    let points = calibration.fit().points;
    Setting::Pressure { pressure, from: format!("this planter's calibration, {points} points") }
}

#[cfg(test)]
mod tests {
    use super::{DownForce, Setting};
    use crate::planter::{Cylinder, Side};
    use crate::quantity::{Force, Length, Measured, Pressure};

    #[test]
    fn less_than_the_weight_of_the_unit_is_set_as_up_lift_never_as_a_negative_pressure() {
        let cylinder = Cylinder {
            bore: Length::from_si(0.032),
            rod: Length::from_si(0.019),
            side: Side::Cap,
            lever_ratio: 0.35,
            most: Pressure::from_si(14.0e6),
        };
        let oil =
            DownForce::Hydraulic { cylinder, calibration: None, lift: Some(Force::from_si(700.0)) };
        let lift = Setting::Lift { force: Force::from_si(300.0) };
        assert_eq!(oil.setting_for(Force::from_si(-300.0)), lift);
        let down = oil.setting_for(Force::from_si(300.0));
        assert!(matches!(down, Setting::Pressure { pressure, .. } if pressure.si() > 0.0));
    }
}
