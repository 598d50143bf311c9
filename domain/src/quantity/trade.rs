//! Quantities of the trade that `uom` does not have.
//!
//! By dimension a volume per area is a length, a pH a plain number: their own types keep a rate
//! from being taken for a depth.

use serde::{Deserialize, Serialize};

use super::kind::{Kind, Measured};

macro_rules! trade {
    ($($(#[$doc:meta])* $name:ident => $kind:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl Measured for $name {
            const KIND: Kind = Kind::$kind;
            fn from_si(value: f64) -> Self { Self(value) }
            fn si(self) -> f64 { self.0 }
        }
    )*};
}

trade! {
    /// Liquid spread over an area, in m³/m²: gallons an acre, litres a hectare.
    VolumePerArea => VolumePerArea;
    /// Charge that a soil holds, in mol/kg: milliequivalents in 100 g are hundredths of it.
    ExchangeCapacity => ExchangeCapacity;
    /// Soil reaction as pH.
    Acidity => Acidity;
}
