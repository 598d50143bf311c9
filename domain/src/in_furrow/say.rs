//! Rates in a sentence: US first, SI in brackets, so that one sentence serves both.

use super::flow::read;
use crate::quantity::{ArealMassDensity, VolumePerArea};

/// `6.8 gal/ac (64 L/ha)`.
pub(super) fn gallons(rate: VolumePerArea) -> String {
    format!("{:.1} gal/ac ({:.0} L/ha)", read(rate, "[gal_us]/[acr_us]"), read(rate, "L/har"))
}

/// `8.0 lb/ac (9.0 kg/ha)`.
pub(super) fn pounds(mass: ArealMassDensity) -> String {
    format!("{:.1} lb/ac ({:.1} kg/ha)", read(mass, "[lb_av]/[acr_us]"), read(mass, "kg/har"))
}
