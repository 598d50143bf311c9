//! What a fertilizer carries, from the analysis on its label.

use serde::{Deserialize, Serialize};

use super::flow::read;
use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{ArealMassDensity, MassDensity, Measured, Ratio, VolumePerArea};

/// The analysis of a fertilizer by mass, as on its label: N - P2O5 - K2O. Shares 0 to 1, together
/// not above 1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Analysis {
    nitrogen: Ratio,
    phosphate: Ratio,
    potash: Ratio,
}

/// Why three shares make no analysis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("each of N, P2O5 and K2O lies from 0 to 100 %, and together they do not pass 100 %")]
pub struct TooMuch;

impl Analysis {
    /// From the three numbers of the label, as shares from 0 to 1.
    ///
    /// # Errors
    /// When a share is not between 0 and 1, or all together pass 1.
    pub fn new(nitrogen: Ratio, phosphate: Ratio, potash: Ratio) -> Result<Self, TooMuch> {
        let shares = [nitrogen.si(), phosphate.si(), potash.si()];
        let each = shares.iter().all(|share| (0.0..=1.0 + 1e-9).contains(share));
        if each && shares.iter().sum::<f64>() <= 1.0 + 1e-9 {
            Ok(Self { nitrogen, phosphate, potash })
        } else {
            Err(TooMuch)
        }
    }

    /// Nitrogen and potash together: what counts as salt with the seed.
    pub fn salt(&self) -> Ratio {
        self.nitrogen + self.potash
    }

    /// Nutrients in a volume, at the density of the label.
    pub fn content(&self, density: MassDensity) -> NutrientContent {
        NutrientContent {
            nitrogen: density * self.nitrogen,
            phosphate: density * self.phosphate,
            potash: density * self.potash,
        }
    }
}

/// Nutrients in a volume of product.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct NutrientContent {
    /// N.
    pub nitrogen: MassDensity,
    /// P2O5.
    pub phosphate: MassDensity,
    /// K2O.
    pub potash: MassDensity,
}

impl NutrientContent {
    /// N + K2O in a volume.
    pub fn salt(&self) -> MassDensity {
        self.nitrogen + self.potash
    }

    /// N + K2O on an area at a rate of product.
    pub fn salt_at(&self, rate: VolumePerArea) -> ArealMassDensity {
        ArealMassDensity::from_si(self.salt().si() * rate.si())
    }

    /// The rate of product that carries so much N + K2O; `None` where it carries none.
    pub fn rate_for(&self, salt: ArealMassDensity) -> Option<VolumePerArea> {
        let held = self.salt().si();
        (held > 0.0).then(|| VolumePerArea::from_si(salt.si() / held))
    }
}

/// N + K2O of a gallon: density x (N + K2O).
pub(super) fn content_step(analysis: &Analysis, density: MassDensity) -> Step {
    Step {
        step: "N + K2O in the product".into(),
        formula: "D (N + K)".into(),
        inputs: vec![
            Input::new("D", read(density, "[lb_av]/[gal_us]"), "[lb_av]/[gal_us]"),
            Input::new("N", analysis.nitrogen.si() * 100.0, "%"),
            Input::new("K", analysis.potash.si() * 100.0, "%"),
        ],
        value: read(analysis.content(density).salt(), "[lb_av]/[gal_us]"),
        unit: "[lb_av]/[gal_us]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}

/// N + K2O on an area: content x rate of product.
pub(super) fn salt_step(content: &NutrientContent, rate: VolumePerArea) -> Step {
    Step {
        step: "N + K2O in the furrow".into(),
        formula: "s R".into(),
        inputs: vec![
            Input::new("s", read(content.salt(), "[lb_av]/[gal_us]"), "[lb_av]/[gal_us]"),
            Input::new("R", read(rate, "[gal_us]/[acr_us]"), "[gal_us]/[acr_us]"),
        ],
        value: read(content.salt_at(rate), "[lb_av]/[acr_us]"),
        unit: "[lb_av]/[acr_us]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}

/// The most of a product that stays within a limit: limit / content.
pub(super) fn most_step(
    content: &NutrientContent,
    limit: ArealMassDensity,
    most: VolumePerArea,
) -> Step {
    Step {
        step: "most product at the limit".into(),
        formula: "Q / s".into(),
        inputs: vec![
            Input::new("Q", read(limit, "[lb_av]/[acr_us]"), "[lb_av]/[acr_us]"),
            Input::new("s", read(content.salt(), "[lb_av]/[gal_us]"), "[lb_av]/[gal_us]"),
        ],
        value: read(most, "[gal_us]/[acr_us]"),
        unit: "[gal_us]/[acr_us]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}
