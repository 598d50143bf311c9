//! The entries of the data dictionary (ISO 11783-11) that we write: numbers and resolutions.

/// An entry of the data dictionary.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ddi {
    /// Its number, as four hexadecimal digits.
    pub hex: &'static str,
    /// What it is, in words.
    pub what: &'static str,
    /// What a figure in SI is multiplied by.
    pub times: f64,
}

/// Setpoint of the count per area, /m², by 0.001.
pub(super) const SEED_RATE: Ddi = Ddi { hex: "000B", what: "seeding rate", times: 1e3 };
/// Setpoint of the volume per area, mm³/m², by 0.01.
pub(super) const LIQUID_RATE: Ddi = Ddi { hex: "0001", what: "liquid in the furrow", times: 1e11 };
/// Setpoint of the seeding depth, mm.
pub(super) const DEPTH: Ddi = Ddi { hex: "0038", what: "depth of the seed", times: 1e3 };
/// Setpoint of the down force, N.
pub(super) const DOWN_FORCE: Ddi = Ddi { hex: "01AA", what: "down force", times: 1.0 };
/// Setpoint of the speed, mm/s.
pub(super) const SPEED: Ddi = Ddi { hex: "018C", what: "speed", times: 1e3 };

/// All of them.
pub const DDIS: [Ddi; 5] = [SEED_RATE, LIQUID_RATE, DEPTH, DOWN_FORCE, SPEED];

impl Ddi {
    /// A figure in SI as the whole number of the file; halves go up. None beyond 32 bits.
    pub fn raw(self, figure: f64) -> Option<i32> {
        // A millionth of a step: 2.5 in are 63.5 mm, whatever the last bit says.
        let scaled = (figure * self.times * 1e6).round() / 1e6;
        let whole = (scaled + 0.5).floor();
        // Adding 0 makes a negative zero a plain one.
        format!("{:.0}", whole + 0.0).parse().ok()
    }
}

#[cfg(test)]
mod tests {
    use super::{DEPTH, DOWN_FORCE, Ddi, LIQUID_RATE, SEED_RATE, SPEED};
    use domain::quantity::unit;

    fn raw(ddi: Ddi, value: f64, code: &str) -> i32 {
        ddi.raw(unit(code).expect("a unit").to_si(value)).expect("in range")
    }

    #[test]
    fn figures_are_the_whole_numbers_of_published_conversions() {
        for (seeds, wanted) in [
            (20_000.0, 4942),
            (28_000.0, 6919),
            (32_000.0, 7907),
            (34_000.0, 8402),
            (36_000.0, 8896),
            (140_000.0, 34_595),
        ] {
            assert_eq!(raw(SEED_RATE, seeds, "1/[acr_us]"), wanted, "{seeds}");
        }
        for (inches, wanted) in [(1.5, 38), (1.75, 44), (2.0, 51), (2.25, 57), (2.5, 64)] {
            assert_eq!(raw(DEPTH, inches, "[in_i]"), wanted, "{inches}");
        }
        for (pounds, wanted) in [(50.0, 222), (100.0, 445), (150.0, 667), (250.0, 1112)] {
            assert_eq!(raw(DOWN_FORCE, pounds, "[lbf_av]"), wanted, "{pounds}");
        }
        for (mph, wanted) in [(4.5, 2012), (5.0, 2235), (6.0, 2682), (10.0, 4470)] {
            assert_eq!(raw(SPEED, mph, "[mi_i]/h"), wanted, "{mph}");
        }
        // The acre of UCUM is the old survey acre: 4 parts in a million, here one or two steps.
        for (gallons, wanted) in [(3.0, 280_619), (5.0, 467_698), (7.5, 701_547)] {
            let found = raw(LIQUID_RATE, gallons, "[gal_us]/[acr_us]");
            assert!((found - wanted).abs() <= 3, "{gallons}: {found} against {wanted}");
        }
    }

    #[test]
    fn what_does_not_fit_into_32_bits_is_not_written() {
        assert_eq!(DOWN_FORCE.raw(2_147_483_647.0), Some(i32::MAX));
        assert_eq!(DOWN_FORCE.raw(2_147_483_648.0), None);
        assert_eq!(DOWN_FORCE.raw(f64::NAN), None);
        assert_eq!(DOWN_FORCE.raw(-0.2), Some(0));
        assert_eq!(DOWN_FORCE.raw(-250.0), Some(-250));
    }
}
