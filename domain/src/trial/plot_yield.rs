//! Yield of a plot from what was weighed.

use serde::{Deserialize, Serialize};

use crate::conditions::Crop;
use crate::provenance::{Coefficients, Input, Mark, Step, Text, sources};
use crate::quantity::{ArealMassDensity, Length, Mass, Measured, Ratio};

/// What was weighed from a plot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Harvested {
    /// The grain as it came.
    pub weight: Mass,
    /// Water in it, by its wet weight.
    pub moisture: Ratio,
    /// Width that was harvested.
    pub width: Length,
    /// Length that was harvested.
    pub length: Length,
}

/// The moisture at which the grain of a crop is sold: all plots are brought to it.
pub fn market_moisture(crop: Crop, k: &Coefficients) -> f64 {
    match crop {
        Crop::Corn => k.market_moisture_corn.value,
        Crop::Soybean => k.market_moisture_soybean.value,
    }
}

/// Yield at the moisture at which the crop is sold, and the step that shows it.
///
/// Dry matter stays what it is: `w (1 - m) / (1 - m_0)` over the area.
pub fn plot_yield(harvested: &Harvested, crop: Crop, k: &Coefficients) -> (ArealMassDensity, Step) {
    let Harvested { weight, moisture, width, length } = *harvested;
    let basis = market_moisture(crop, k);
    let row = match crop {
        Crop::Corn => &k.market_moisture_corn,
        Crop::Soybean => &k.market_moisture_soybean,
    };
    let area = width.si() * length.si();
    let value = weight.si() * (1.0 - moisture.si()) / (1.0 - basis) / area;
    let step = Step {
        step: Text::Borrowed("yield of the plot"),
        formula: Text::Borrowed("w (1 - m) / (1 - m_0) / (b l)"),
        inputs: vec![
            Input::new("w", weight.si(), "kg"),
            Input::new("m", moisture.si(), "1"),
            Input::new("m_0", basis, "1"),
            Input::new("b", width.si(), "m"),
            Input::new("l", length.si(), "m"),
        ],
        value,
        unit: Text::Borrowed("kg/m2"),
        low: None,
        high: None,
        source: row.source.clone(),
        mark: row.mark,
    };
    (ArealMassDensity::from_si(value), step)
}

/// Bushels as they are traded: a weight of grain at the moisture at which it is sold, not a volume.
/// In bushels an acre, and the step that shows it.
pub fn bushels(grain: ArealMassDensity, crop: Crop, k: &Coefficients) -> (f64, Step) {
    let weight = match crop {
        Crop::Corn => &k.seed_density_corn,
        Crop::Soybean => &k.seed_density_soybean,
    };
    let pounds = crate::quantity::unit("[lb_av]/[acr_us]").map_or(0.0, |unit| unit.read(grain));
    let value = pounds / weight.value;
    let step = Step {
        step: Text::Borrowed("bushels"),
        formula: Text::Borrowed("y / w_bu"),
        inputs: vec![
            Input::new("y", pounds, "[lb_av]/[acr_us]"),
            Input::new("w_bu", weight.value, "[lb_av]/[bu_us]"),
        ],
        value,
        unit: Text::Borrowed("[bu_us]/[acr_us]"),
        low: None,
        high: None,
        source: weight.source.clone(),
        mark: weight.mark,
    };
    (value, step)
}

/// Why weights of plots are taken in one way.
pub const WEIGHING: (&str, Mark, &str) = (
    "weigh every plot with the same wagon, parked and level, and bring all to one moisture",
    Mark::Read,
    sources::CANOLA_STRIPS,
);
