//! Computed quantities in the caller's units, no finer than anybody can set or read them.

use domain::quantity::{
    ArealMassDensity, ArealNumberDensity, Bound, Force, Length, Measured, Pressure, Speed, System,
    bounds,
};

use crate::http::quantity::Quantity;

/// Shows quantities in one system of units.
#[derive(Debug, Clone, Copy)]
pub struct Show(pub System);

impl Show {
    /// A down force, to the pound or newton.
    pub fn down_force(self, force: Force) -> Quantity {
        self.rounded(&bounds::DOWN_FORCE, force, (0, 0))
    }

    /// A load on the gauge wheels of a row, to the pound or newton.
    pub fn load(self, force: Force) -> Quantity {
        self.rounded(&bounds::GAUGE_WHEEL_LOAD, force, (0, 0))
    }

    /// A weight on the frame, to the pound or newton.
    pub fn frame(self, force: Force) -> Quantity {
        self.rounded(&bounds::FRAME_WEIGHT, force, (0, 0))
    }

    /// A pressure, to the psi or kilopascal.
    pub fn pressure(self, pressure: Pressure) -> Quantity {
        self.rounded(&bounds::ELEMENT_PRESSURE, pressure, (0, 0))
    }

    /// A depth, to a hundredth of an inch or a millimetre.
    pub fn depth(self, depth: Length) -> Quantity {
        self.rounded(&bounds::PLANTING_DEPTH, depth, (2, 0))
    }

    /// A depth that was found, or a difference of two: to a hundredth of an inch or a tenth of a
    /// millimetre.
    pub fn found(self, depth: Length) -> Quantity {
        self.rounded(&bounds::SEED_DEPTH, depth, (2, 1))
    }

    /// A height of the coulter over the opener, to a hundredth of an inch or a millimetre.
    pub fn coulter(self, height: Length) -> Quantity {
        self.rounded(&bounds::COULTER_ABOVE_OPENER, height, (2, 0))
    }

    /// A speed, to a tenth.
    pub fn speed(self, speed: Speed) -> Quantity {
        self.rounded(&bounds::GROUND_SPEED, speed, (1, 1))
    }

    /// Dry matter of cover or residue, to the ten.
    pub fn dry_matter(self, mass: ArealMassDensity) -> Quantity {
        let shown = Quantity::show(&bounds::DRY_MATTER, mass, self.0);
        Quantity { value: (shown.value / 10.0).round() * 10.0, ..shown }
    }

    /// Nitrogen on an area, to the pound or kilogram.
    pub fn nitrogen(self, mass: ArealMassDensity) -> Quantity {
        self.rounded(&bounds::NITROGEN_RATE, mass, (0, 0))
    }

    /// Seeds per area, to the hundred.
    pub fn population(self, seeds: ArealNumberDensity) -> Quantity {
        let shown = Quantity::show(&bounds::SEED_POPULATION, seeds, self.0);
        Quantity { value: (shown.value / 100.0).round() * 100.0, ..shown }
    }

    /// Seed spacing, to a hundredth of an inch or a millimetre.
    pub fn spacing(self, apart: Length) -> Quantity {
        self.rounded(&bounds::SEED_SPACING, apart, (2, 1))
    }

    /// Distance between rows, to a tenth.
    pub fn row_width(self, width: Length) -> Quantity {
        self.rounded(&bounds::ROW_WIDTH, width, (1, 1))
    }

    /// A stretch of row, to a hundredth of a foot or a centimetre.
    pub fn row(self, length: Length) -> Quantity {
        self.rounded(&bounds::ROW_LENGTH, length, (2, 2))
    }

    pub(super) fn rounded<Q: Measured>(
        self,
        bound: &Bound<Q>,
        q: Q,
        digits: (usize, usize),
    ) -> Quantity {
        let (value, unit) = bound.show(q, self.0);
        let digits = match self.0 {
            System::Us => digits.0,
            System::Si => digits.1,
        };
        Quantity::new(to_digits(value, digits), unit)
    }
}

/// A share from 0 to 1, to the hundredth.
pub fn share(value: f64) -> f64 {
    to_digits(value, 2)
}

/// So many digits after the point. Adding 0 makes a negative zero a plain one.
fn to_digits(value: f64, digits: usize) -> f64 {
    format!("{value:.digits$}").parse().unwrap_or(value) + 0.0
}

#[cfg(test)]
mod tests {
    use super::{Show, share};
    use domain::quantity::{Force, Length, Measured, Pressure, Speed, System};

    #[test]
    fn numbers_are_no_finer_than_they_can_be_set() {
        let (us, si) = (Show(System::Us), Show(System::Si));
        let force = Force::from_si(992.4);
        assert_eq!(
            (us.down_force(force).value, us.down_force(force).unit.as_str()),
            (223.0, "[lbf_av]")
        );
        assert_eq!((si.down_force(force).value, si.down_force(force).unit.as_str()), (992.0, "N"));
        let depth = Length::from_si(0.0381);
        assert_eq!((us.depth(depth).value, si.depth(depth).value), (1.5, 38.0));
        assert!((us.pressure(Pressure::from_si(209_600.0)).value - 30.0).abs() < 1e-9);
        assert!((us.speed(Speed::from_si(2.2352)).value - 5.0).abs() < 1e-9);
        assert_eq!(us.down_force(Force::from_si(-0.1)).value.to_string(), "0");
        assert!((share(0.054_9) - 0.05).abs() < 1e-9);
    }
}
