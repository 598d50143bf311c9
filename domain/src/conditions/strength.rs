//! Soil strength: classes of the cone penetrometer, and a formula that shows what drying does.

use serde::{Deserialize, Serialize};

use super::report::StrengthClass;
use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Area, Length, MassDensity, Measured, Pressure, System, bounds};

/// Upper ends of the classes in psi: loose, good, firm.
const CLASS_ENDS_PSI: (f64, f64, f64) = (100.0, 200.0, 300.0);

impl StrengthClass {
    /// The class of a cone reading: below 100 psi loose, to 200 good, to 300 firm, above hard.
    ///
    /// A reading at 100 psi is good, at 200 good, at 300 firm (Penn State Extension bands).
    pub fn of(cone: Pressure) -> Self {
        let psi = bounds::PENETRATION_RESISTANCE.show(cone, System::Us).0;
        let (loose, good, firm) = CLASS_ENDS_PSI;
        if psi < loose - 1e-6 {
            Self::Loose
        } else if psi <= good + 1e-6 {
            Self::Good
        } else if psi <= firm + 1e-6 {
            Self::Firm
        } else {
            Self::Hard
        }
    }
}

/// Base area of a cone: pi D^2 / 4.
pub fn cone_base(diameter: Length) -> Area {
    Area::from_si(std::f64::consts::FRAC_PI_4 * diameter.si().powi(2))
}

/// A soil for which the strength formula holds.
///
/// Clay 5 to 40 %, organic carbon 0 to 5 %, bulk density 0.9 to 1.8 `g/cm3`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct StrengthSoil {
    clay: f64,
    organic_carbon: f64,
    density: f64,
}

/// The terms of the formula `PR = c theta^d Db^e`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrengthTerms {
    /// Factor, in `MPa`.
    pub c: f64,
    /// Exponent of the water content, always negative here.
    pub d: f64,
    /// Exponent of the bulk density.
    pub e: f64,
}

/// Why the formula gives no answer.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error(
    "{what} is {value}; the strength formula holds from {least} to {most} {unit} and is not carried further"
)]
pub struct OutsideFormula {
    /// What lies outside.
    pub what: &'static str,
    /// What was given, or would come out.
    pub value: f64,
    /// Least value for which the formula holds.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
    /// Unit of all three.
    pub unit: &'static str,
}

fn within(
    what: &'static str,
    value: f64,
    (least, most): (f64, f64),
    unit: &'static str,
) -> Result<f64, OutsideFormula> {
    if value >= least - 1e-9 && value <= most + 1e-9 {
        Ok(value)
    } else {
        Err(OutsideFormula { what, value, least, most, unit })
    }
}

/// Water contents for which the power law makes sense, m3/m3.
const WATER: (f64, f64) = (0.10, 0.55);
/// Bulk densities of the soils that the formula was built on, `g/cm3`.
const DENSITY: (f64, f64) = (0.9, 1.8);

impl StrengthSoil {
    /// A soil by clay and organic carbon in percent and bulk density.
    ///
    /// # Errors
    /// Outside the soils that the formula was built on.
    pub fn new(
        clay: f64,
        organic_carbon: f64,
        density: MassDensity,
    ) -> Result<Self, OutsideFormula> {
        Ok(Self {
            clay: within("clay", clay, (5.0, 40.0), "%")?,
            organic_carbon: within("organic carbon", organic_carbon, (0.0, 5.0), "%")?,
            density: within("bulk density", density.si() / 1000.0, DENSITY, "g/cm3")?,
        })
    }

    /// A water content in m3/m3, moved to the nearest end of where the formula holds.
    pub fn held_water(water: f64) -> f64 {
        water.clamp(WATER.0, WATER.1)
    }

    /// A bulk density, moved to the nearest end of where the formula holds.
    pub fn held_density(density: MassDensity) -> MassDensity {
        MassDensity::from_si((density.si() / 1000.0).clamp(DENSITY.0, DENSITY.1) * 1000.0)
    }

    /// c = exp(-3.67 + 0.765 OC - 0.145 CLAY), d = -0.481 + 0.208 OC - 0.124 CLAY,
    /// e = 3.85 + 0.0963 CLAY (da Silva and Kay 1997).
    pub fn terms(&self) -> StrengthTerms {
        let (clay, carbon) = (self.clay, self.organic_carbon);
        StrengthTerms {
            c: (-3.67 + 0.765 * carbon - 0.145 * clay).exp(),
            d: -0.481 + 0.208 * carbon - 0.124 * clay,
            e: 3.85 + 0.0963 * clay,
        }
    }

    /// Penetration resistance at a water content in m3/m3: `PR = c theta^d Db^e`, in `MPa`.
    ///
    /// # Errors
    /// When the water content is not between 0.10 and 0.55 m3/m3.
    pub fn resistance(&self, water: f64) -> Result<(Pressure, Step), OutsideFormula> {
        let theta = within("water content", water, WATER, "m3/m3")?;
        let StrengthTerms { c, d, e } = self.terms();
        let mpa = c * theta.powf(d) * self.density.powf(e);
        let step = Step {
            step: "penetration resistance".into(),
            formula: "c theta^d Db^e".into(),
            inputs: vec![
                Input::new("c", c, "MPa"),
                Input::new("theta", theta, "m3/m3"),
                Input::new("d", d, "1"),
                Input::new("Db", self.density, "g/cm3"),
                Input::new("e", e, "1"),
            ],
            value: mpa,
            unit: "MPa".into(),
            low: None,
            high: None,
            source: sources::DA_SILVA_KAY_1997.into(),
            mark: Mark::FromMemory,
        };
        Ok((Pressure::from_si(mpa * 1.0e6), step))
    }

    /// The water content at which the soil has a resistance: theta = (PR / (c Db^e))^(1/d).
    ///
    /// # Errors
    /// When that water content is not between 0.10 and 0.55 m3/m3.
    pub fn water_at(&self, resistance: Pressure) -> Result<(f64, Step), OutsideFormula> {
        let StrengthTerms { c, d, e } = self.terms();
        let mpa = resistance.si() / 1.0e6;
        let theta = (mpa / (c * self.density.powf(e))).powf(1.0 / d);
        let theta = within("water content", theta, WATER, "m3/m3")?;
        let step = Step {
            step: "water content at a resistance".into(),
            formula: "(PR / (c Db^e))^(1/d)".into(),
            inputs: vec![
                Input::new("PR", mpa, "MPa"),
                Input::new("c", c, "MPa"),
                Input::new("Db", self.density, "g/cm3"),
                Input::new("e", e, "1"),
                Input::new("d", d, "1"),
            ],
            value: theta,
            unit: "m3/m3".into(),
            low: None,
            high: None,
            source: sources::DA_SILVA_KAY_1997.into(),
            mark: Mark::FromMemory,
        };
        Ok((theta, step))
    }
}
