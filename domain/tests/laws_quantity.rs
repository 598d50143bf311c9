//! What must hold for units and bounds: no unit loses a value, no bound loses its own ends.

use domain::quantity::{UNITS, bounds, unit, units_of};
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

#[test]
fn bounds_take_their_own_ends_and_nothing_beyond() {
    let rows = bounds::table();
    assert!(rows.len() >= 38);
    for row in rows {
        let takes = |value: f64, code: &str| bounds::parse(row.name, value, code).unwrap().is_ok();
        let own = unit(row.us).unwrap();
        for u in units_of(row.kind) {
            let least = u.of_si(own.to_si(row.least));
            let most = u.of_si(own.to_si(row.most));
            let step = 0.001 * (most - least).abs();
            for inside in [least, most, f64::midpoint(least, most)] {
                assert!(takes(inside, u.code), "{} refuses {inside} {}", row.name, u.code);
            }
            let beyond = [least - step, most + step, f64::NAN, f64::INFINITY, f64::NEG_INFINITY];
            for outside in beyond {
                assert!(!takes(outside, u.code), "{} takes {outside} {}", row.name, u.code);
            }
        }
        for other in UNITS.iter().filter(|u| u.kind != row.kind) {
            assert!(!takes(row.least, other.code), "{} takes {}", row.name, other.code);
        }
        assert!(!takes(row.least, "furlong") && !takes(row.least, ""), "{}", row.name);
        let (us, si) = (unit(row.us).unwrap(), unit(row.si).unwrap());
        assert!(us.kind == row.kind && si.kind == row.kind && row.least < row.most);
        assert!(!row.why.is_empty());
    }
    assert!(bounds::parse("no such row", 1.0, "m").is_none());
}

#[test]
fn a_refusal_says_what_was_given_and_what_is_allowed() {
    let refusal = bounds::PLANTING_DEPTH.parse(200.0, "mm").unwrap_err();
    assert_eq!(refusal.name, "planting_depth");
    assert!((refusal.least - 6.35).abs() < 1e-9 && (refusal.most - 127.0).abs() < 1e-9);
    let text = refusal.to_string();
    for part in ["planting_depth", "200", "mm", "6.35", "127"] {
        assert!(text.contains(part), "{part} is not in {text:?}");
    }
    let wrong = bounds::PLANTING_DEPTH.parse(2.0, "[lbf_av]").unwrap_err().to_string();
    assert!(wrong.contains("a force") && wrong.contains("[in_i]"), "{wrong}");
    let unknown = bounds::PLANTING_DEPTH.parse(2.0, "inch").unwrap_err().to_string();
    assert!(unknown.contains("inch") && unknown.contains("[in_i]"), "{unknown}");
}

#[test]
fn names_and_codes_stand_once() {
    let rows = bounds::table();
    for (i, row) in rows.iter().enumerate() {
        assert!(rows.iter().skip(i + 1).all(|r| r.name != row.name), "{} stands twice", row.name);
    }
    for (i, one) in UNITS.iter().enumerate() {
        assert!(UNITS.iter().skip(i + 1).all(|u| u.code != one.code), "{} stands twice", one.code);
        assert_eq!(unit(one.code), Some(one));
    }
}

#[test]
fn exact_factors_follow_their_definitions() {
    // Code, value, and the same in the SI base unit.
    let exact = [
        ("[in_i]", 1.0, 0.0254),
        ("[mi_i]", 1.0, 1609.344),
        ("[acr_us]", 1.0, 4_046.872_609_874_252),
        ("[lb_av]", 1.0, 0.453_592_37),
        ("[lbf_av]", 1.0, 4.448_221_615_260_5),
        ("[psi]", 1.0, 6_894.757_293_168_361),
        ("[bu_us]", 1.0, 0.035_239_070_166_88),
        ("[gal_us]", 1.0, 0.003_785_411_784),
        ("[foz_us]", 128.0, 0.003_785_411_784),
        ("mL", 1.0, 1e-6),
        ("[gal_us]/min", 60.0, 0.003_785_411_784),
        ("[foz_us]/min", 7680.0, 0.003_785_411_784),
        ("L/min", 60_000.0, 1.0),
        ("mL/min", 60.0, 1e-6),
        // Gallon over survey acre.
        ("[gal_us]/[acr_us]", 1.0, 0.003_785_411_784 / 4_046.872_609_874_252),
        ("[foz_us]/[acr_us]", 128.0, 0.003_785_411_784 / 4_046.872_609_874_252),
        ("L/har", 1.0e7, 1.0),
        ("[lb_av]/[gal_us]", 0.003_785_411_784, 0.453_592_37),
        ("kg/L", 1.0, 1000.0),
        ("min", 1.0, 60.0),
        ("meq/hg", 7.0, 0.07),
        ("cmol/kg", 7.0, 0.07),
        ("[pH]", 6.5, 6.5),
        ("[degF]", 32.0, 273.15),
        ("[degF]", 212.0, 373.15),
        ("Cel", 0.0, 273.15),
        ("[mi_i]/h", 1.0, 0.447_04),
    ];
    for (code, value, si) in exact {
        let got = unit(code).unwrap().to_si(value);
        assert!((got - si).abs() <= 1e-12 * si, "{value} {code} is {got}, not {si}");
    }
}
