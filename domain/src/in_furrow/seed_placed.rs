//! The stand that fertilizer with the seed costs, by the equation of South Dakota State University.
//!
//! For information: it tells how much material costs so much stand, and loosens no stop.

use crate::conditions::Crop;
use crate::provenance::{Coefficient, Coefficients, Input, Mark, Reason, Step, sources};
use crate::quantity::{ArealMassDensity, Length, Measured, Ratio};

use super::flow::{INCH, of};
use super::stops::Stop;

/// Materials with a published slope.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SeedMaterial {
    /// Urea, 46-0-0.
    Urea,
    /// Urea with a urease inhibitor.
    UreaInhibited,
    /// UAN, 28-0-0.
    Uan,
    /// Ammonium nitrate, 34-0-0.
    AmmoniumNitrate,
}

/// Texture and moisture at planting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SeedPlacedSoil {
    /// Medium or fine, moist: factor 1.
    MoistMediumOrFine,
    /// Sandy, moist.
    MoistCoarse,
    /// Medium or fine, dry: the factor must be given.
    DryMediumOrFine,
    /// Sandy, dry: the factor must be given.
    DryCoarse,
}

/// What goes into the equation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeedPlaced {
    /// The crop.
    pub crop: Crop,
    /// The material.
    pub material: SeedMaterial,
    /// Width of the furrow over which it spreads.
    pub furrow: Length,
    /// Distance between rows.
    pub row_width: Length,
    /// Stand loss that is tolerated; the 10 % of the tables when `None`.
    pub tolerated: Option<Ratio>,
    /// Soil at planting.
    pub soil: SeedPlacedSoil,
    /// Factor for moisture and texture of the worksheet, 1 in moist medium or fine soil.
    pub factor: Option<f64>,
}

/// Why the equation can't be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SeedPlacedError {
    /// Dry soil without its factor.
    #[error(
        "the factor of the worksheet for dry soil is needed; only that of moist soil, 1, is known here"
    )]
    DryWithoutFactor,
    /// Something that must be above 0 is not.
    #[error("furrow, row width, factor and stand loss must be above 0, and the loss at most 100 %")]
    NotAboveZero,
}

impl SeedPlacedSoil {
    const fn is_dry(self) -> bool {
        matches!(self, Self::DryMediumOrFine | Self::DryCoarse)
    }

    /// The share by which coarse soil cuts the rate, as printed.
    const fn cut(self, k: &Coefficients) -> Option<&Coefficient> {
        match self {
            Self::MoistCoarse => Some(&k.coarse_cut_moist),
            Self::DryCoarse => Some(&k.coarse_cut_dry),
            Self::MoistMediumOrFine | Self::DryMediumOrFine => None,
        }
    }
}

impl SeedPlaced {
    /// The change of the stand in percent for each lb/ac, below 0.
    pub const fn slope<'a>(&self, k: &'a Coefficients) -> &'a Coefficient {
        match (self.material, self.crop) {
            (SeedMaterial::Urea, Crop::Corn) => &k.stand_slope_urea_corn,
            (SeedMaterial::Urea, Crop::Soybean) => &k.stand_slope_urea_soybean,
            (SeedMaterial::UreaInhibited, Crop::Corn) => &k.stand_slope_urea_inhibited_corn,
            (SeedMaterial::UreaInhibited, Crop::Soybean) => &k.stand_slope_urea_inhibited_soybean,
            (SeedMaterial::Uan, Crop::Corn) => &k.stand_slope_uan_corn,
            (SeedMaterial::Uan, Crop::Soybean) => &k.stand_slope_uan_soybean,
            (SeedMaterial::AmmoniumNitrate, Crop::Corn) => &k.stand_slope_ammonium_nitrate_corn,
            (SeedMaterial::AmmoniumNitrate, Crop::Soybean) => {
                &k.stand_slope_ammonium_nitrate_soybean
            }
        }
    }

    /// Why the material must stay out of the furrow all the same.
    pub fn stops(&self) -> Vec<Stop> {
        let mut stops = Vec::new();
        if self.crop == Crop::Soybean {
            stops.push(Stop::FertilizerOnSoybean);
        }
        match self.material {
            SeedMaterial::Urea | SeedMaterial::UreaInhibited => stops.push(Stop::Urea),
            SeedMaterial::Uan => stops.push(Stop::Uan),
            SeedMaterial::AmmoniumNitrate => {}
        }
        stops
    }
}

/// Material that costs the tolerated stand: F = 30 S (-T) / (C R MX), and on coarse soil the printed
/// cut of it.
///
/// # Errors
/// For dry soil without its factor, or where something that must be above 0 is not.
pub fn seed_placed(
    case: &SeedPlaced,
    k: &Coefficients,
) -> Result<(ArealMassDensity, Vec<Step>), SeedPlacedError> {
    let factor = match case.factor {
        None if case.soil.is_dry() => return Err(SeedPlacedError::DryWithoutFactor),
        given => given.unwrap_or(1.0),
    };
    let tolerated = case.tolerated.map_or(k.stand_loss_of_tables.value, |share| share.si() * 100.0);
    let (furrow, rows) = (case.furrow.si() / INCH, case.row_width.si() / INCH);
    let above = [furrow, rows, factor, tolerated].iter().all(|x| *x > 0.0 && x.is_finite());
    if !above || tolerated > 100.0 + 1e-9 {
        return Err(SeedPlacedError::NotAboveZero);
    }
    let slope = case.slope(k);
    let material = 30.0 * furrow * -tolerated / (slope.value * rows * factor);
    let mut steps = vec![Step {
        step: "material with the seed".into(),
        formula: "30 S (-T) / (C R MX)".into(),
        inputs: vec![
            Input::new("S", furrow, "[in_i]"),
            Input::new("T", tolerated, "%"),
            Input::new("C", slope.value, "%.[acr_us]/[lb_av]"),
            Input::new("R", rows, "[in_i]"),
            Input::new("MX", factor, "1"),
        ],
        value: material,
        unit: "[lb_av]/[acr_us]".into(),
        low: None,
        high: None,
        source: slope.source.clone(),
        mark: slope.mark,
    }];
    let left = case.soil.cut(k).map_or(material, |cut| {
        steps.push(cut_step(material, cut));
        material * (1.0 - cut.value)
    });
    Ok((of(left, "[lb_av]/[acr_us]"), steps))
}

fn cut_step(material: f64, cut: &Coefficient) -> Step {
    Step {
        step: "less on coarse soil".into(),
        formula: "F (1 - c)".into(),
        inputs: vec![
            Input::new("F", material, "[lb_av]/[acr_us]"),
            Input::new("c", cut.value, "1"),
        ],
        value: material * (1.0 - cut.value),
        unit: "[lb_av]/[acr_us]".into(),
        low: None,
        high: None,
        source: cut.source.clone(),
        mark: cut.mark,
    }
}

/// What goes with the figure.
pub fn seed_placed_watch(case: &SeedPlaced) -> Vec<Reason> {
    let mut watch = vec![
        Reason::fixed(
            "for information: it says what a rate costs, and allows nothing that is stopped",
            Mark::Proposal,
            sources::OWN_CHOICE,
        ),
        Reason::fixed(
            "blends are not additive: do not add the rates of their parts",
            Mark::Read,
            sources::DAKOTA_SEED_PLACED_RULES,
        ),
        Reason::fixed(
            "slopes come from seedlings in a laboratory; half the loss means half the rate",
            Mark::Read,
            sources::DAKOTA_SEED_PLACED_RULES,
        ),
    ];
    if case.crop == Crop::Soybean {
        watch.push(Reason::fixed(
            "keep the final stand of soybean at or above 100,000 plants an acre",
            Mark::Read,
            sources::NEBRASKA_SEEDING,
        ));
    }
    watch
}
