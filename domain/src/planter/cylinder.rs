//! Force of a hydraulic cylinder: pressure times the area it acts on.

use serde::{Deserialize, Serialize};

use crate::quantity::{Force, Length, Measured, Pressure};

/// A hydraulic cylinder on a row unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Cylinder {
    /// Diameter of the bore.
    pub bore: Length,
    /// Diameter of the rod.
    pub rod: Length,
    /// Which side pushes the unit down.
    pub side: Side,
    /// Force at the gauge wheels for each newton at the cylinder, from its lever; 1 without one.
    pub lever_ratio: f64,
    /// Greatest working pressure.
    pub most: Pressure,
}

/// The side of the piston that the oil acts on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The whole bore.
    Cap,
    /// The ring around the rod.
    Rod,
}

impl Cylinder {
    /// The area that the oil acts on, in m².
    pub fn area(&self) -> f64 {
        let bore = self.bore.si().powi(2);
        let rod = self.rod.si().powi(2);
        let ring = match self.side {
            Side::Cap => bore,
            Side::Rod => (bore - rod).max(0.0),
        };
        std::f64::consts::FRAC_PI_4 * ring
    }

    /// Force at the gauge wheels: F = p A x lever ratio.
    pub fn force_at(&self, pressure: Pressure) -> Force {
        Force::from_si(pressure.si() * self.area() * self.lever_ratio)
    }

    /// The pressure for a force, which may lie above the greatest working pressure.
    pub fn pressure_for(&self, force: Force) -> Pressure {
        Pressure::from_si(force.si() / (self.area() * self.lever_ratio))
    }
}
