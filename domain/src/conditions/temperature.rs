//! Soil temperature in the seed zone, under bare ground and under a living cover.

use uom::si::length::inch;
use uom::si::thermodynamic_temperature::degree_fahrenheit;

use super::cover_crop::CoverState;
use super::report::{Conditions, Crop};
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Step, sources};
use crate::quantity::{Length, Measured, Temperature};

/// Temperature at seed depth with the range that the correction leaves open.
#[derive(Debug, Clone, PartialEq)]
pub struct SeedZone {
    /// Coldest that is likely.
    pub low: Temperature,
    /// The figure to act on.
    pub likely: Temperature,
    /// Warmest that is likely.
    pub high: Temperature,
    /// The correction, where there was one.
    pub steps: Vec<Step>,
}

impl SeedZone {
    /// A temperature that was read where the seed will lie.
    pub const fn as_read(reading: Temperature) -> Self {
        Self { low: reading, likely: reading, high: reading, steps: Vec::new() }
    }
}

/// The temperature under a living cover, from a reading under bare or killed ground.
///
/// T = `T_outside` - dT; dT from Reed et al. 2019 (0.9 K at corn planting, 0.7 to 2.4 K at soybean
/// planting). A cover never warms the soil.
pub fn under_cover(outside: Temperature, crop: Crop, k: &Coefficients) -> SeedZone {
    let cooling = cooling_of(crop, k);
    let shifted = |by: f64| Temperature::from_si(outside.si() - by.max(0.0));
    let likely = shifted(cooling.value);
    let (low, high) = (shifted(cooling.high), shifted(cooling.low));
    let fahrenheit = |t: Temperature| t.get::<degree_fahrenheit>();
    let step = Step {
        step: "soil temperature under the living cover".into(),
        formula: "T_outside - 1.8 dT".into(),
        inputs: vec![
            Input::new("T_outside", fahrenheit(outside), "[degF]"),
            Input::new(cooling.symbol, cooling.value, "K"),
        ],
        value: fahrenheit(likely),
        unit: "[degF]".into(),
        low: Some(fahrenheit(low)),
        high: Some(fahrenheit(high)),
        source: cooling.source.clone(),
        mark: cooling.mark,
    };
    SeedZone { low, likely, high, steps: vec![step] }
}

/// A reading or forecast brought to where the seed will lie.
///
/// Corrected when it was taken outside the cover, unless that cover is known to be dead.
pub fn in_seed_zone(reading: Temperature, c: &Conditions, k: &Coefficients) -> SeedZone {
    if c.read_outside_cover && !cover_is_dead(c) {
        under_cover(reading, c.crop, k)
    } else {
        SeedZone::as_read(reading)
    }
}

/// The soil temperature of a report, in the seed zone.
pub fn seed_zone(c: &Conditions, k: &Coefficients) -> Option<SeedZone> {
    c.soil_temperature.map(|reading| in_seed_zone(reading, c, k))
}

fn cover_is_dead(c: &Conditions) -> bool {
    let state = c.cover.and_then(|cover| cover.state);
    matches!(state, Some(CoverState::DeadCrisp | CoverState::DeadDamp))
}

const fn cooling_of(crop: Crop, k: &Coefficients) -> &Coefficient {
    match crop {
        Crop::Corn => &k.green_cooling_corn,
        Crop::Soybean => &k.green_cooling_soybean,
    }
}

/// Reading and seed may lie so far apart, in inches, before it is said.
const SAME_DEPTH_IN: f64 = 0.5;

/// That a temperature read at another depth was used for the depth of the seed, where it was.
///
/// Shallow soil swings more over the day than deep soil; no published correction is used.
pub fn read_elsewhere(c: &Conditions, seed_depth: Length) -> Option<Assumed> {
    let read = c.soil_temperature.and(c.temperature_depth)?.get::<inch>();
    let seed = seed_depth.get::<inch>();
    let apart = (read - seed).abs() > SAME_DEPTH_IN + 1e-6;
    apart.then(|| Assumed {
        what: "soil temperature at seed depth".into(),
        used: format!("as read at {read:.1} in, for seed at {seed:.2} in").into(),
        range: None,
        instead: "read the thermometer at seed depth, in the morning and at the hour of planting"
            .into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    })
}
