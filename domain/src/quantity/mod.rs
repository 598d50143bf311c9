//! Typed quantities: `uom` types inside, UCUM codes at the edge, one table of bounds.
//!
//! A value that exists as a `uom` quantity has the right dimension. A value that came through a
//! [`Bound`] is finite and physically possible as well.

mod bound;
pub mod bounds;
mod kind;
mod trade;
mod unit;

pub use bound::{Bound, Refusal, RefusalReason};
pub use kind::{Kind, Measured, System};
pub use trade::{Acidity, ExchangeCapacity, VolumePerArea};
pub use unit::{UNITS, Unit, unit, units_of};

pub use uom::si::f64::{
    Angle, Area, ArealMassDensity, ArealNumberDensity, Force, Length, Mass, MassDensity, Pressure,
    Ratio, ThermodynamicTemperature as Temperature, Time, Velocity as Speed, Volume,
    VolumeRate as Flow,
};
