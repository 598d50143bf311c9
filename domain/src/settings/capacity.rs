//! How fast a planter covers ground, how many days a farm takes, and what power it needs.

use serde::{Deserialize, Serialize};

use crate::provenance::{Input, Mark, Step, Trace, sources};
use crate::quantity::{Area, Force, Length, Measured, Ratio, Speed, unit};

/// Area covered in a time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct AreaRate {
    /// m²/s.
    square_metres_a_second: f64,
}

impl AreaRate {
    /// Acres of the unit table in an hour.
    pub fn acres_an_hour(self) -> f64 {
        self.square_metres_a_second * 3600.0 / acre()
    }

    /// Hectares in an hour.
    pub fn hectares_an_hour(self) -> f64 {
        self.square_metres_a_second * 0.36
    }
}

/// Power.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Power {
    /// W.
    watts: f64,
}

/// Mechanical horsepower in W: 550 ft lbf/s.
const HORSEPOWER: f64 = 550.0 * 0.3048 * 4.448_221_615_260_5;
const FOOT: f64 = 0.3048;
const POUND_FORCE: f64 = 4.448_221_615_260_5;
const MPH: f64 = 0.447_04;

impl Power {
    /// From W.
    pub const fn from_watts(watts: f64) -> Self {
        Self { watts }
    }

    /// Kilowatts.
    pub fn kilowatts(self) -> f64 {
        self.watts / 1000.0
    }

    /// Mechanical horsepower.
    pub fn horsepower(self) -> f64 {
        self.watts / HORSEPOWER
    }
}

/// Why a capacity or power cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CapacityError {
    /// A planter that never works.
    #[error("the field efficiency must be above 0 and not above 100 %")]
    Efficiency,
    /// A day without hours, or a planter that stands.
    #[error("hours a day must be above 0 and not above 24, and the capacity above 0")]
    NoTime,
}

/// A capacity with its calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldCapacity {
    /// Without any stop: width x speed.
    pub theoretical: AreaRate,
    /// With turning and filling: theoretical x efficiency.
    pub effective: AreaRate,
    /// The calculation.
    pub trace: Trace,
}

/// Field capacity: width x speed (width in ft x mph / 8.25 in ac/h), times the efficiency.
///
/// Width of a planter = rows x row width.
///
/// # Errors
/// When the efficiency is not above 0 or passes 1.
pub fn field_capacity(
    width: Length,
    speed: Speed,
    efficiency: Ratio,
) -> Result<FieldCapacity, CapacityError> {
    let share = efficiency.si();
    let possible = share > 0.0 && share <= 1.0 + 1e-9;
    if !possible {
        return Err(CapacityError::Efficiency);
    }
    let theoretical = AreaRate { square_metres_a_second: width.si() * speed.si() };
    let effective = AreaRate { square_metres_a_second: theoretical.square_metres_a_second * share };
    let mut trace = Trace::default();
    trace.push(Step {
        step: "effective field capacity".into(),
        formula: "W v e / 8.25".into(),
        inputs: vec![
            Input::new("W", width.si() / FOOT, "[ft_i]"),
            Input::new("v", speed.si() / MPH, "[mi_i]/h"),
            Input::new("e", share, "1"),
        ],
        value: effective.acres_an_hour(),
        unit: "[acr_us]/h".into(),
        low: None,
        high: None,
        source: sources::KENTUCKY_CAPACITY.into(),
        mark: Mark::Read,
    });
    Ok(FieldCapacity { theoretical, effective, trace })
}

/// Working days for an area at a capacity.
///
/// # Errors
/// When the hours a day are not above 0 or pass 24, or the planter covers no ground.
pub fn days_to_finish(
    area: Area,
    capacity: AreaRate,
    hours_a_day: f64,
) -> Result<f64, CapacityError> {
    let a_day = capacity.square_metres_a_second * 3600.0 * hours_a_day;
    if hours_a_day > 0.0 && hours_a_day <= 24.0 && a_day > 0.0 {
        Ok(area.si() / a_day)
    } else {
        Err(CapacityError::NoTime)
    }
}

/// The capacity needed to plant an area in so many working days: area / (days x hours).
///
/// # Errors
/// When days or hours are not above 0, or a day has more than 24 hours.
pub fn needed_capacity(area: Area, days: f64, hours_a_day: f64) -> Result<AreaRate, CapacityError> {
    let seconds = days * hours_a_day * 3600.0;
    if hours_a_day > 0.0 && hours_a_day <= 24.0 && seconds > 0.0 && seconds.is_finite() {
        Ok(AreaRate { square_metres_a_second: area.si() / seconds })
    } else {
        Err(CapacityError::NoTime)
    }
}

/// Drawbar power: pull x speed (lbf x mph / 375 in hp).
pub fn drawbar_power(pull: Force, speed: Speed) -> (Power, Step) {
    let power = Power { watts: pull.si() * speed.si() };
    let step = Step {
        step: "drawbar power".into(),
        formula: "F v / 375".into(),
        inputs: vec![
            Input::new("F", pull.si() / POUND_FORCE, "[lbf_av]"),
            Input::new("v", speed.si() / MPH, "[mi_i]/h"),
        ],
        value: power.horsepower(),
        unit: "[HP]".into(),
        low: None,
        high: None,
        source: sources::IOWA_POWER.into(),
        mark: Mark::Read,
    };
    (power, step)
}

/// PTO power for an implement: width x speed x draft per foot x soil factor / 375.
///
/// `draft_per_metre` in N/m. The soil factor stands for firm or soft ground under the tractor, as
/// in the worked example of the source (1.5 on firm soil). Rows may stand for feet.
pub fn pto_power(
    width: Length,
    speed: Speed,
    draft_per_metre: f64,
    soil_factor: f64,
) -> (Power, Step) {
    let power = Power { watts: width.si() * draft_per_metre * soil_factor * speed.si() };
    let step = Step {
        step: "PTO power".into(),
        formula: "W v D s / 375".into(),
        inputs: vec![
            Input::new("W", width.si() / FOOT, "[ft_i]"),
            Input::new("v", speed.si() / MPH, "[mi_i]/h"),
            Input::new("D", draft_per_metre * FOOT / POUND_FORCE, "[lbf_av]/[ft_i]"),
            Input::new("s", soil_factor, "1"),
        ],
        value: power.horsepower(),
        unit: "[HP]".into(),
        low: None,
        high: None,
        source: sources::IOWA_POWER.into(),
        mark: Mark::Read,
    };
    (power, step)
}

fn acre() -> f64 {
    unit("[acr_us]").map_or(1.0, |u| u.to_si(1.0))
}
