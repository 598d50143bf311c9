//! Population, row width and spacing: what follows from the definition of an area.

use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Area, ArealNumberDensity, Length, Measured, Ratio, System, bounds, unit};

/// Why a rate cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SeedingError {
    /// Nothing grows.
    #[error("the share of seed that becomes plants must be above 0 and not above 1")]
    NothingGrows,
    /// A row or a rate of nothing.
    #[error("row width, spacing and population must be above 0")]
    NothingThere,
}

/// Seeds per area for a stand: stand / (germination x survival).
///
/// # Errors
/// When the product of the shares is not above 0 or passes 1.
pub fn seeding_rate(
    stand: ArealNumberDensity,
    germination: Ratio,
    survival: Ratio,
) -> Result<ArealNumberDensity, SeedingError> {
    let grows = germination.si() * survival.si();
    if grows > 0.0 && grows <= 1.0 + 1e-9 {
        Ok(ArealNumberDensity::from_si(stand.si() / grows))
    } else {
        Err(SeedingError::NothingGrows)
    }
}

/// Distance from seed to seed: 1 / (population x row width).
///
/// # Errors
/// When either is not above 0.
pub fn spacing(population: ArealNumberDensity, row_width: Length) -> Result<Length, SeedingError> {
    let per_metre = population.si() * row_width.si();
    if per_metre > 0.0 && per_metre.is_finite() {
        Ok(Length::from_si(1.0 / per_metre))
    } else {
        Err(SeedingError::NothingThere)
    }
}

/// Population of a spacing: 1 / (spacing x row width).
///
/// # Errors
/// When either is not above 0.
pub fn population(spacing: Length, row_width: Length) -> Result<ArealNumberDensity, SeedingError> {
    let area = spacing.si() * row_width.si();
    if area > 0.0 && area.is_finite() {
        Ok(ArealNumberDensity::from_si(1.0 / area))
    } else {
        Err(SeedingError::NothingThere)
    }
}

/// Seeds in a length of row: population x row width x length.
pub fn seeds_in(population: ArealNumberDensity, row_width: Length, length: Length) -> f64 {
    population.si() * row_width.si() * length.si()
}

/// Length of one row that holds a share of an acre: share x acre / row width.
///
/// The acre is the one of the unit table. With 30 in rows a thousandth is 17 ft 5 in.
///
/// # Errors
/// When the row width is not above 0.
pub fn row_length_of_acre(share: f64, row_width: Length) -> Result<Length, SeedingError> {
    if row_width.si() > 0.0 {
        Ok(Length::from_si(share * acre().si() / row_width.si()))
    } else {
        Err(SeedingError::NothingThere)
    }
}

/// Weight of seed per area as a plain number: seeds per acre / seeds per pound, in lb/ac.
///
/// # Errors
/// When the seeds per pound are not above 0.
pub fn seed_weight(seeds_per_acre: f64, seeds_per_pound: f64) -> Result<f64, SeedingError> {
    if seeds_per_pound > 0.0 {
        Ok(seeds_per_acre / seeds_per_pound)
    } else {
        Err(SeedingError::NothingThere)
    }
}

/// The step that shows the spacing.
pub(super) fn spacing_step(rate: ArealNumberDensity, row_width: Length, apart: Length) -> Step {
    let inches = |l: Length| bounds::SEED_SPACING.show(l, System::Us).0;
    Step {
        step: "spacing in the row".into(),
        formula: "1 / (P W)".into(),
        inputs: vec![
            Input::new("P", bounds::SEED_POPULATION.show(rate, System::Us).0, "1/[acr_us]"),
            Input::new("W", inches(row_width), "[in_i]"),
        ],
        value: inches(apart),
        unit: "[in_i]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}

/// The step that shows the thousandth of an acre.
pub(super) fn length_step(row_width: Length, length: Length) -> Step {
    Step {
        step: "row that is a thousandth of an acre".into(),
        formula: "0.001 acre / W".into(),
        inputs: vec![Input::new("W", bounds::ROW_WIDTH.show(row_width, System::Us).0, "[in_i]")],
        value: bounds::ROW_LENGTH.show(length, System::Us).0,
        unit: "[ft_i]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}

fn acre() -> Area {
    Area::from_si(unit(bounds::FIELD_AREA.us).map_or(0.0, |u| u.to_si(1.0)))
}
