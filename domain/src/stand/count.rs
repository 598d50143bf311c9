//! Stands from counts: a stretch of row, a walked 150 plants, a hoop.

use crate::provenance::{Input, Mark, Step, Trace, sources};
use crate::quantity::{ArealNumberDensity, Length, Measured, System, bounds};

/// A stand with its calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct Stand {
    /// Plants per area.
    pub population: ArealNumberDensity,
    /// The calculation.
    pub trace: Trace,
}

/// Why a count gives no stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CountError {
    /// Nothing was counted over.
    #[error("row length, row width, hoop and factor must be above 0")]
    NoArea,
    /// More plants than seeds.
    #[error("seeds planted must be above 0")]
    NoSeeds,
}

/// Stand from plants in a length of one row: n / (L W).
///
/// Serves the thousandth-acre count, the 50-ft count and the walk past 150 plants.
///
/// # Errors
/// When length or width is not above 0.
pub fn stand_in_row(plants: f64, row: Length, row_width: Length) -> Result<Stand, CountError> {
    let area = row.si() * row_width.si();
    let has_area = row.si() > 0.0 && row_width.si() > 0.0;
    if !has_area {
        return Err(CountError::NoArea);
    }
    let population = ArealNumberDensity::from_si(plants / area);
    let inputs = vec![
        Input::new("n", plants, "1"),
        Input::new("L", bounds::ROW_LENGTH.show(row, System::Us).0, "[ft_i]"),
        Input::new("W", bounds::ROW_WIDTH.show(row_width, System::Us).0, "[in_i]"),
    ];
    Ok(stand(population, "n / (L W)", inputs, sources::ILLINOIS_COUNT))
}

/// Stand from plants inside a hoop: n / (pi D^2 / 4).
///
/// # Errors
/// When the diameter is not above 0.
pub fn stand_in_hoop(plants: f64, diameter: Length) -> Result<Stand, CountError> {
    if diameter.si().is_nan() || diameter.si() <= 0.0 {
        return Err(CountError::NoArea);
    }
    let area = std::f64::consts::FRAC_PI_4 * diameter.si().powi(2);
    let population = ArealNumberDensity::from_si(plants / area);
    let inputs = vec![
        Input::new("n", plants, "1"),
        Input::new("D", bounds::SEED_SPACING.show(diameter, System::Us).0, "[in_i]"),
    ];
    Ok(stand(population, "n / (pi D^2 / 4)", inputs, sources::PURDUE_HOOP))
}

/// Diameter of a ring made of a hose: length / pi.
pub fn ring_diameter(hose: Length) -> Length {
    Length::from_si(hose.si() / std::f64::consts::PI)
}

/// Plants per acre by a factor that is printed on a hoop or in a table: n x factor.
///
/// Printed hoop factors take pi as 3.14 and lie 0.05 % high.
///
/// # Errors
/// When the factor is not above 0.
pub fn stand_by_printed_factor(plants: f64, factor: f64) -> Result<f64, CountError> {
    if factor > 0.0 { Ok(plants * factor) } else { Err(CountError::NoArea) }
}

/// Share of the seed that became plants, in percent: 100 x stand / seeds planted.
///
/// # Errors
/// When no seed was planted.
pub fn emergence_percent(
    plants: ArealNumberDensity,
    seeds: ArealNumberDensity,
) -> Result<f64, CountError> {
    if seeds.si() > 0.0 { Ok(100.0 * plants.si() / seeds.si()) } else { Err(CountError::NoSeeds) }
}

fn stand(
    population: ArealNumberDensity,
    formula: &'static str,
    inputs: Vec<Input>,
    source: &'static str,
) -> Stand {
    let mut trace = Trace::default();
    trace.push(Step {
        step: "stand".into(),
        formula: formula.into(),
        inputs,
        value: bounds::SEED_POPULATION.show(population, System::Us).0,
        unit: "1/[acr_us]".into(),
        low: None,
        high: None,
        source: source.into(),
        mark: Mark::Derived,
    });
    Stand { population, trace }
}
