//! What must hold for units and bounds: no unit loses a value, no bound loses its own ends.

use domain::quantity::{UNITS, bounds, units_of};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_unit_round_trips(share in 0.0..1.0_f64) {
        for one in UNITS {
            // From deep cold to hot for scales, else over six decades.
            let value = if one.code == "K" { 200.0 + 200.0 * share } else { 1e-3 * 1e6_f64.powf(share) };
            let back = one.of_si(one.to_si(value));
            prop_assert!((back - value).abs() <= 1e-9 * value.abs().max(1.0), "{}: {back}", one.code);
            for other in units_of(one.kind) {
                let there = other.of_si(one.to_si(value));
                let again = one.of_si(other.to_si(there));
                prop_assert!((again - value).abs() <= 1e-7 * value.abs().max(1.0), "{} {}", one.code, other.code);
            }
        }
    }
}

/// Asks a bound for its ends, beyond them, and for what is no number, in every unit of its kind.
macro_rules! ends_belong {
    ($($name:ident),* $(,)?) => {[$({
        let bound = bounds::$name;
        for u in units_of(bound.kind()) {
            let (least, most) = bound.range_in(u);
            let span = (most - least).abs();
            for end in [least, most] {
                let taken = bound.parse(end, u.code);
                assert!(taken.is_ok(), "{} refuses its own end {end} {}", bound.name, u.code);
            }
            for beyond in [least - 0.001 * span, most + 0.001 * span, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let refusal = bound.parse(beyond, u.code);
                assert!(refusal.is_err(), "{} takes {beyond} {}", bound.name, u.code);
            }
        }
        for u in UNITS.iter().filter(|u| u.kind != bound.kind()) {
            assert!(bound.parse(bound.least, u.code).is_err(), "{} takes {}", bound.name, u.code);
        }
        assert!(bound.parse(bound.least, "furlong").is_err());
        stringify!($name)
    }),*]};
}

#[test]
fn bounds_take_their_own_ends_and_nothing_beyond() {
    let asked = ends_belong![
        PLANTING_DEPTH,
        SEED_DEPTH,
        SEED_SPACING,
        ROW_WIDTH,
        WORKING_WIDTH,
        ROW_LENGTH,
        DISC_DIAMETER,
        COULTER_ABOVE_OPENER,
        ARM_LENGTH,
        BAR_HEIGHT_ERROR,
        COVER_HEIGHT,
        RIBBON_LENGTH,
        RAIN,
        TEMPERATURE_DEPTH,
        DEPTH_STEP,
        CYLINDER_DIAMETER,
        DOWN_FORCE,
        GAUGE_WHEEL_LOAD,
        ROW_FORCE,
        ROW_DRAFT,
        UNIT_WEIGHT,
        ATTACHMENT_WEIGHT,
        FRAME_WEIGHT,
        ELEMENT_PRESSURE,
        PENETRATION_RESISTANCE,
        GROUND_SPEED,
        SOIL_TEMPERATURE,
        AIR_TEMPERATURE,
        ARM_ANGLE,
        HOPPER_VOLUME,
        FIELD_AREA,
        SEED_POPULATION,
        SHARE,
        POSITIVE_SHARE,
        DRY_MATTER,
        BULK_DENSITY,
        WEIGHED_MASS,
        SAMPLED_AREA,
    ];
    assert_eq!(asked.len(), bounds::table().len(), "a bound is not in the list of this test");
}
