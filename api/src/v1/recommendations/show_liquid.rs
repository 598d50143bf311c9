//! Liquids in the caller's units, no finer than anybody can set or catch them.

use domain::quantity::{Area, ArealMassDensity, Flow, System, Time, Volume, VolumePerArea, bounds};

use super::show::Show;
use crate::http::quantity::Quantity;

impl Show {
    /// A rate of liquid, to a hundredth of a gallon an acre or a tenth of a litre a hectare.
    pub fn application_rate(self, rate: VolumePerArea) -> Quantity {
        self.rounded(&bounds::APPLICATION_RATE, rate, (2, 1))
    }

    /// The same, never above what it is.
    pub fn application_rate_down(self, rate: VolumePerArea) -> Quantity {
        let shown = Quantity::show(&bounds::APPLICATION_RATE, rate, self.0);
        let step = match self.0 {
            System::Us => 100.0,
            System::Si => 10.0,
        };
        // What lies on a step stays there, whatever its last binary digit is.
        Quantity { value: (shown.value * step + 1e-6).floor() / step, ..shown }
    }

    /// A flow, to a thousandth.
    pub fn flow(self, flow: Flow) -> Quantity {
        self.rounded(&bounds::OUTLET_FLOW, flow, (3, 3))
    }

    /// Nutrients with the seed, to a tenth of a pound or kilogram.
    pub fn seed_placed(self, mass: ArealMassDensity) -> Quantity {
        self.rounded(&bounds::SEED_PLACED, mass, (1, 1))
    }

    /// A time on a stop watch, to a tenth of a second.
    pub fn seconds(self, time: Time) -> Quantity {
        self.rounded(&bounds::CATCH_TIME, time, (1, 1))
    }

    /// An area, to a tenth of an acre or a hundredth of a hectare.
    pub fn area(self, area: Area) -> Quantity {
        self.rounded(&bounds::FIELD_AREA, area, (1, 2))
    }

    /// What goes into a tank, to a tenth of a gallon or a litre.
    pub fn tank(self, volume: Volume) -> Quantity {
        self.rounded(&bounds::TANK_VOLUME, volume, (1, 0))
    }
}
