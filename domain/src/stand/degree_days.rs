//! Growing degree days by the 86/50 method.

use uom::si::thermodynamic_temperature::degree_fahrenheit;

use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Measured, Temperature};

/// Limits of the method in °F.
const LEAST: f64 = 50.0;
const MOST: f64 = 86.0;
/// Most that a day can bring, °F.
pub(super) const MOST_A_DAY: f64 = MOST - LEAST;

/// Highest and lowest air temperature of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    high: Temperature,
    low: Temperature,
}

/// The low of a day lies above its high.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the lowest temperature of a day is above its highest: check which is which")]
pub struct LowAboveHigh;

impl Day {
    /// A day by its highest and lowest temperature.
    ///
    /// # Errors
    /// When the low is above the high.
    pub fn new(high: Temperature, low: Temperature) -> Result<Self, LowAboveHigh> {
        if low.si() <= high.si() + 1e-9 { Ok(Self { high, low }) } else { Err(LowAboveHigh) }
    }

    /// The highest temperature.
    pub fn high(&self) -> Temperature {
        self.high
    }

    /// The lowest temperature.
    pub fn low(&self) -> Temperature {
        self.low
    }

    /// Degree days in °F: (min(max(high, 50), 86) + min(max(low, 50), 86)) / 2 - 50.
    ///
    /// Each temperature is limited first, so that a day is never negative and never above 36.
    pub fn degree_days(&self) -> f64 {
        let limited = |t: Temperature| t.get::<degree_fahrenheit>().clamp(LEAST, MOST);
        f64::midpoint(limited(self.high), limited(self.low)) - LEAST
    }

    /// The same with its calculation.
    pub fn step(&self) -> Step {
        Step {
            step: "degree days of a day".into(),
            formula: "(min(max(T_max, 50), 86) + min(max(T_min, 50), 86)) / 2 - 50".into(),
            inputs: vec![
                Input::new("T_max", self.high.get::<degree_fahrenheit>(), "[degF]"),
                Input::new("T_min", self.low.get::<degree_fahrenheit>(), "[degF]"),
            ],
            value: self.degree_days(),
            unit: "[degF].d".into(),
            low: None,
            high: None,
            source: sources::DEGREE_DAYS.into(),
            mark: Mark::Read,
        }
    }
}

/// Sum of degree days in °F over days.
pub fn degree_day_sum<'a>(days: impl IntoIterator<Item = &'a Day>) -> f64 {
    days.into_iter().map(Day::degree_days).sum()
}
