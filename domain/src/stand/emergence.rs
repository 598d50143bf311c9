//! How many degree days a crop takes to emerge.

use serde::{Deserialize, Serialize};
use uom::si::length::inch;

use crate::conditions::{Conditions, Crop, Moisture, TextureGroup, mat_fraction};
use crate::provenance::{Coefficients, Input, Mark, Reason, Step, sources};
use crate::quantity::Length;

/// Degree days (°F, base 50 °F, air) from planting to emergence, with their range.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Emergence {
    /// Fewest that are likely.
    pub low: f64,
    /// The figure to work with.
    pub likely: f64,
    /// Most that are likely.
    pub high: f64,
    /// What moves them.
    pub because: Vec<Reason>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// No heat, no emergence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("degree days a day must be above 0 to reach emergence")]
pub struct NoHeat;

/// Degree days to emergence in a field at a depth.
///
/// Corn: 115 (90 to 125), then by the corrections of Lauer 2003 (15 for each inch below 2 in, 30
/// to 60 under more than 75 % residue, 30 in a dry seed zone, 30 to 60 in fine soil, 30 to 60 less
/// in coarse soil). Soybean: 145 (130 to 165), one preliminary source.
pub fn emergence(c: &Conditions, depth: Length, k: &Coefficients) -> Emergence {
    let base = match c.crop {
        Crop::Corn => &k.emergence_corn,
        Crop::Soybean => &k.emergence_soybean,
    };
    let mut found = Emergence {
        low: base.low,
        likely: base.value,
        high: base.high,
        because: Vec::new(),
        steps: Vec::new(),
    };
    if c.crop == Crop::Corn {
        correct(&mut found, c, depth.get::<inch>(), k);
    }
    found.steps.push(Step {
        step: "degree days to emergence".into(),
        formula: "base + corrections".into(),
        inputs: vec![
            Input::new("base", base.value, "[degF].d"),
            Input::new("corrections", found.likely - base.value, "[degF].d"),
        ],
        value: found.likely,
        unit: "[degF].d".into(),
        low: Some(found.low),
        high: Some(found.high),
        source: base.source.clone(),
        mark: base.mark,
    });
    found
}

fn correct(found: &mut Emergence, c: &Conditions, depth_in: f64, k: &Coefficients) {
    let mut add = |low: f64, high: f64, text: &'static str| {
        found.low += low;
        found.likely += f64::midpoint(low, high);
        found.high += high;
        found.because.push(Reason::fixed(text, Mark::Read, sources::LAUER_2003));
    };
    let deeper = (depth_in - 2.0).max(0.0);
    if deeper > 0.0 {
        add(15.0 * deeper, 15.0 * deeper, "15 more for each inch below 2 in");
    }
    if mat_fraction(c, k).likely > 0.75 {
        add(30.0, 60.0, "30 to 60 more under more than 75 % residue");
    }
    if c.moisture == Some(Moisture::Dry) {
        add(30.0, 30.0, "30 more in a seed zone that is too dry");
    }
    match c.texture.map(crate::conditions::TextureClass::group) {
        Some(TextureGroup::Fine) => add(30.0, 60.0, "30 to 60 more in fine soil"),
        Some(TextureGroup::Coarse) => add(-60.0, -30.0, "30 to 60 less in coarse soil"),
        _ => {}
    }
}

/// Days to emergence at so many degree days a day.
///
/// # Errors
/// When a day brings none.
pub fn days_to_emerge(degree_days: f64, a_day: f64) -> Result<f64, NoHeat> {
    if a_day > 0.0 { Ok(degree_days / a_day) } else { Err(NoHeat) }
}

/// Thermal time per depth in °F-days per inch, from °C-days per cm: x 1.8 x 2.54.
pub fn thermal_time_per_inch(celsius_days_per_cm: f64) -> f64 {
    celsius_days_per_cm * 1.8 * 2.54
}
