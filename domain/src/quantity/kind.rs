//! The kinds of quantity the trade measures, and their `uom` types.

use serde::{Deserialize, Serialize};
use uom::si::f64 as si;

/// What a number measures. Two units can be exchanged only within one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Depth, spacing, diameter, row width, rain.
    Length,
    /// Field area.
    Area,
    /// Hopper content.
    Volume,
    /// Weight as a mass.
    Mass,
    /// Load, down force, soil reaction.
    Force,
    /// Air, oil or cone pressure.
    Pressure,
    /// Ground speed.
    Speed,
    /// A temperature on a scale, not a difference.
    Temperature,
    /// Arm angle.
    Angle,
    /// Share, percent.
    Fraction,
    /// Seeds or plants per area.
    PerArea,
    /// Dry matter per area.
    MassPerArea,
    /// Bulk density, density of a liquid.
    Density,
    /// Seconds of a catch test.
    Time,
    /// Liquid through an outlet in a time.
    Flow,
    /// Liquid per area.
    VolumePerArea,
    /// Charge that a soil holds.
    ExchangeCapacity,
    /// Soil reaction.
    Acidity,
}

impl Kind {
    /// The word for messages: "a length".
    pub fn name(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Mass => "a mass",
            Self::Force => "a force",
            Self::Pressure => "a pressure",
            Self::Speed => "a speed",
            Self::Temperature => "a temperature",
            Self::Angle => "an angle",
            Self::Fraction => "a share",
            Self::PerArea => "a count per area",
            Self::MassPerArea => "a mass per area",
            Self::Density => "a density",
            Self::Time => "a time",
            Self::Flow => "a flow",
            Self::VolumePerArea => "a volume per area",
            Self::ExchangeCapacity => "a cation exchange capacity",
            Self::Acidity => "a pH",
        }
    }
}

/// The two systems of units in which answers are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum System {
    /// Inches, pounds-force, miles an hour, degrees Fahrenheit, acres.
    #[default]
    Us,
    /// Millimetres, newtons, kilometres an hour, degrees Celsius, hectares.
    Si,
}

/// A `uom` quantity that the unit table can make and read.
pub trait Measured: Copy {
    /// Which units it may be given in.
    const KIND: Kind;
    /// From the SI base unit of its kind.
    fn from_si(value: f64) -> Self;
    /// In the SI base unit of its kind.
    fn si(self) -> f64;
}

macro_rules! measured {
    ($($quantity:ty => $kind:ident, $module:ident :: $unit:ident;)*) => {$(
        impl Measured for $quantity {
            const KIND: Kind = Kind::$kind;
            fn from_si(value: f64) -> Self { Self::new::<uom::si::$module::$unit>(value) }
            fn si(self) -> f64 { self.get::<uom::si::$module::$unit>() }
        }
    )*};
}

measured! {
    si::Length => Length, length::meter;
    si::Area => Area, area::square_meter;
    si::Volume => Volume, volume::cubic_meter;
    si::Mass => Mass, mass::kilogram;
    si::Force => Force, force::newton;
    si::Pressure => Pressure, pressure::pascal;
    si::Velocity => Speed, velocity::meter_per_second;
    si::ThermodynamicTemperature => Temperature, thermodynamic_temperature::kelvin;
    si::Angle => Angle, angle::radian;
    si::Ratio => Fraction, ratio::ratio;
    si::ArealNumberDensity => PerArea, areal_number_density::per_square_meter;
    si::ArealMassDensity => MassPerArea, areal_mass_density::kilogram_per_square_meter;
    si::MassDensity => Density, mass_density::kilogram_per_cubic_meter;
    si::Time => Time, time::second;
    si::VolumeRate => Flow, volume_rate::cubic_meter_per_second;
}
