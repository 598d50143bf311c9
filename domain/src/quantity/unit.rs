//! The UCUM codes that are understood, and the exact factor of each.
//!
//! Factors follow the definitions of UCUM: international inch, foot, mile and pound, the US survey
//! acre (`[acr_us]`), standard gravity for `[lbf_av]`. `uom` rounds some of these to seven digits,
//! so the exact definition stands here and `uom` carries the dimension.

use super::kind::{Kind, Measured};

/// One unit: `si = (value + offset) * factor`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// UCUM code, case-sensitive: `[in_i]`, `Cel`, `1/[acr_us]`.
    pub code: &'static str,
    /// How people write it: `in`, `°C`, `per acre`.
    pub label: &'static str,
    /// What it measures.
    pub kind: Kind,
    factor: f64,
    offset: f64,
}

impl Unit {
    /// The value in the SI base unit of the kind.
    pub fn to_si(&self, value: f64) -> f64 {
        (value + self.offset) * self.factor
    }

    /// The value in this unit of a number in the SI base unit.
    pub fn of_si(&self, si: f64) -> f64 {
        si / self.factor - self.offset
    }

    /// The value in this unit. The caller has checked the kind.
    pub fn read<Q: Measured>(&self, quantity: Q) -> f64 {
        self.of_si(quantity.si())
    }
}

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const MILE: f64 = 1609.344;
const POUND: f64 = 0.453_592_37;
const GRAVITY: f64 = 9.806_65;
const POUND_FORCE: f64 = POUND * GRAVITY;
const SURVEY_FOOT: f64 = 1200.0 / 3937.0;
const ACRE: f64 = 43_560.0 * SURVEY_FOOT * SURVEY_FOOT;
const HECTARE: f64 = 10_000.0;
const BUSHEL: f64 = 0.035_239_070_166_88;
const GALLON: f64 = 0.003_785_411_784;

const fn row(code: &'static str, label: &'static str, kind: Kind, factor: f64) -> Unit {
    Unit { code, label, kind, factor, offset: 0.0 }
}

/// Every unit that is understood.
pub const UNITS: &[Unit] = &[
    row("[in_i]", "in", Kind::Length, INCH),
    row("[ft_i]", "ft", Kind::Length, FOOT),
    row("[mi_i]", "mi", Kind::Length, MILE),
    row("mm", "mm", Kind::Length, 0.001),
    row("cm", "cm", Kind::Length, 0.01),
    row("m", "m", Kind::Length, 1.0),
    row("km", "km", Kind::Length, 1000.0),
    row("[acr_us]", "ac", Kind::Area, ACRE),
    row("har", "ha", Kind::Area, HECTARE),
    row("[sft_i]", "sq ft", Kind::Area, FOOT * FOOT),
    row("m2", "m²", Kind::Area, 1.0),
    row("[bu_us]", "bu", Kind::Volume, BUSHEL),
    row("[gal_us]", "gal", Kind::Volume, GALLON),
    row("[foz_us]", "fl oz", Kind::Volume, GALLON / 128.0),
    row("L", "L", Kind::Volume, 0.001),
    row("mL", "mL", Kind::Volume, 1.0e-6),
    row("m3", "m³", Kind::Volume, 1.0),
    row("[lb_av]", "lb", Kind::Mass, POUND),
    row("g", "g", Kind::Mass, 0.001),
    row("kg", "kg", Kind::Mass, 1.0),
    row("t", "t", Kind::Mass, 1000.0),
    row("[lbf_av]", "lbf", Kind::Force, POUND_FORCE),
    row("N", "N", Kind::Force, 1.0),
    row("daN", "daN", Kind::Force, 10.0),
    row("kN", "kN", Kind::Force, 1000.0),
    row("kgf", "kgf", Kind::Force, GRAVITY),
    row("[psi]", "psi", Kind::Pressure, POUND_FORCE / (INCH * INCH)),
    row("kPa", "kPa", Kind::Pressure, 1000.0),
    row("MPa", "MPa", Kind::Pressure, 1.0e6),
    row("bar", "bar", Kind::Pressure, 1.0e5),
    row("Pa", "Pa", Kind::Pressure, 1.0),
    row("[mi_i]/h", "mph", Kind::Speed, MILE / 3600.0),
    row("km/h", "km/h", Kind::Speed, 1.0 / 3.6),
    row("m/s", "m/s", Kind::Speed, 1.0),
    Unit {
        code: "[degF]",
        label: "°F",
        kind: Kind::Temperature,
        factor: 5.0 / 9.0,
        offset: 459.67,
    },
    Unit { code: "Cel", label: "°C", kind: Kind::Temperature, factor: 1.0, offset: 273.15 },
    row("K", "K", Kind::Temperature, 1.0),
    row("deg", "°", Kind::Angle, std::f64::consts::PI / 180.0),
    row("rad", "rad", Kind::Angle, 1.0),
    row("%", "%", Kind::Fraction, 0.01),
    row("1", "", Kind::Fraction, 1.0),
    row("1/[acr_us]", "per ac", Kind::PerArea, 1.0 / ACRE),
    row("1/har", "per ha", Kind::PerArea, 1.0 / HECTARE),
    row("1/m2", "per m²", Kind::PerArea, 1.0),
    row("[lb_av]/[acr_us]", "lb/ac", Kind::MassPerArea, POUND / ACRE),
    row("kg/har", "kg/ha", Kind::MassPerArea, 1.0 / HECTARE),
    row("t/har", "t/ha", Kind::MassPerArea, 1000.0 / HECTARE),
    row("kg/m2", "kg/m²", Kind::MassPerArea, 1.0),
    row("g/cm3", "g/cm³", Kind::Density, 1000.0),
    row("kg/m3", "kg/m³", Kind::Density, 1.0),
    row("[lb_av]/[gal_us]", "lb/gal", Kind::Density, POUND / GALLON),
    row("kg/L", "kg/L", Kind::Density, 1000.0),
    row("s", "s", Kind::Time, 1.0),
    row("min", "min", Kind::Time, 60.0),
    row("h", "h", Kind::Time, 3600.0),
    row("[gal_us]/min", "gal/min", Kind::Flow, GALLON / 60.0),
    row("[foz_us]/min", "fl oz/min", Kind::Flow, GALLON / 128.0 / 60.0),
    row("L/min", "L/min", Kind::Flow, 0.001 / 60.0),
    row("mL/min", "mL/min", Kind::Flow, 1.0e-6 / 60.0),
    row("m3/s", "m³/s", Kind::Flow, 1.0),
    row("[gal_us]/[acr_us]", "gal/ac", Kind::VolumePerArea, GALLON / ACRE),
    row("[foz_us]/[acr_us]", "fl oz/ac", Kind::VolumePerArea, GALLON / 128.0 / ACRE),
    row("L/har", "L/ha", Kind::VolumePerArea, 0.001 / HECTARE),
    row("m3/m2", "m³/m²", Kind::VolumePerArea, 1.0),
    row("meq/hg", "meq/100 g", Kind::ExchangeCapacity, 0.01),
    row("cmol/kg", "cmol/kg", Kind::ExchangeCapacity, 0.01),
    row("mol/kg", "mol/kg", Kind::ExchangeCapacity, 1.0),
    row("[pH]", "pH", Kind::Acidity, 1.0),
];

/// Finds a unit by its UCUM code. Case matters, as in UCUM.
pub fn unit(code: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|u| u.code == code)
}

/// The codes of one kind, in the order of the table.
pub fn units_of(kind: Kind) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |u| u.kind == kind)
}
