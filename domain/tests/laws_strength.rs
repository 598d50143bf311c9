//! Laws of the soil-state factor: what it is judged by, and what makes soil harder or softer.

#![expect(clippy::unwrap_used, reason = "a broken case must fail loudly")]

mod cases;

use cases::{STRENGTHS, inputs, make_ups, q};
use domain::conditions::{Conditions, Crop, Moisture, SoilMakeup, StrengthClass, TextureClass};
use domain::provenance::Coefficients;
use domain::quantity::{MassDensity, Measured, Pressure, Ratio};
use domain::settings::{Inputs, Recommendation, SoilFrom, recommend};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn run(inputs: &Inputs) -> Recommendation {
    recommend(inputs, &K)
}

/// The soil-state factor of a field on the worked planter: low, likely, high, and its origin.
fn soil_of(field: Conditions) -> (f64, f64, f64, SoilFrom) {
    let case = Inputs { field, ..cases::worked_case() };
    let soil = run(&case).down_force.soil.unwrap();
    (soil.factor.low, soil.factor.likely, soil.factor.high, soil.from)
}

fn bare() -> Conditions {
    Conditions { moisture: Some(Moisture::Moist), ..Conditions::of(Crop::Corn) }
}

proptest! {
    #![proptest_config(cases::law(1_000))]

    #[test]
    fn more_water_never_strengthens_soil_and_density_never_weakens_it(
        soil in make_ups(), more in 0.0..0.2_f64, denser in 0.0..0.6_f64,
    ) {
        let full = SoilMakeup {
            clay: soil.clay.or(Some(Ratio::from_si(0.2))),
            bulk_density: soil.bulk_density.or(Some(MassDensity::from_si(1300.0))),
            water: soil.water.or(Some(Ratio::from_si(0.2))),
            ..soil
        };
        let with = |soil| soil_of(Conditions { soil, ..bare() });
        let before = with(full);
        let wetter = with(SoilMakeup { water: full.water.map(|w| w + Ratio::from_si(more)), ..full });
        let tighter = with(SoilMakeup {
            bulk_density: full.bulk_density.map(|d| d + MassDensity::from_si(denser * 1000.0)),
            ..full
        });
        prop_assert_eq!(before.3, wetter.3);
        prop_assert_eq!(before.3, tighter.3);
        prop_assert!(wetter.0 <= before.0 + 1e-9 && wetter.1 <= before.1 + 1e-9 && wetter.2 <= before.2 + 1e-9);
        prop_assert!(tighter.0 >= before.0 - 1e-9 && tighter.1 >= before.1 - 1e-9 && tighter.2 >= before.2 - 1e-9);
        let clay = full.clay.unwrap().si();
        let carbon = full.organic_carbon.map_or(0.015, Measured::si);
        let holds = (0.05..=0.40).contains(&clay) && carbon <= 0.05;
        prop_assert_eq!(before.3 == SoilFrom::StrengthFormula, holds);
    }

    #[test]
    fn a_harder_reading_never_needs_less_force(case in inputs(), psi in 0.0..700.0_f64, more in 0.0..100.0_f64) {
        let mut case = case;
        case.goals.depth = Some(q(2.0, "[in_i]"));
        case.goals.speed = Some(q(5.0, "[mi_i]/h"));
        // Nothing that could contradict the reading.
        case.field = Conditions { cover: case.field.cover, ..bare() };
        let mut at = |psi: f64| {
            case.field.penetration = Some(q::<Pressure>(psi, "[psi]"));
            run(&case).down_force
        };
        let (soft, hard) = (at(psi), at(psi + more));
        prop_assert!(hard.need.si() >= soft.need.si() - 1e-9);
        prop_assert_eq!(soft.soil.unwrap().from, SoilFrom::Penetrometer);
    }
}

#[test]
fn what_says_most_about_strength_goes_first() {
    let soil = SoilMakeup {
        clay: Some(q(25.0, "%")),
        organic_carbon: Some(q(2.0, "%")),
        bulk_density: Some(q(1.3, "g/cm3")),
        water: Some(q(25.0, "%")),
    };
    let mut field = Conditions {
        penetration: Some(q(225.0, "[psi]")),
        strength_class: Some(StrengthClass::Good),
        soil,
        ..bare()
    };
    let found = soil_of(field.clone());
    assert_eq!(found.3, SoilFrom::Penetrometer);
    assert!((found.1 - 1.5).abs() < 1e-9, "225 psi on 150 psi");
    field.penetration = None;
    let found = soil_of(field.clone());
    assert_eq!(found.3, SoilFrom::StrengthClass);
    // The middle of 100 to 200 psi.
    assert!((found.1 - 1.0).abs() < 1e-9);
    field.strength_class = None;
    let found = soil_of(field.clone());
    assert_eq!(found.3, SoilFrom::StrengthFormula);
    // 188.9 psi by the formula (row of the published table worked out), on 150 psi.
    assert!((found.1 - 188.9 / 150.0).abs() < 1e-3, "{}", found.1);
    // Organic carbon that nobody tested widens the range.
    field.soil.organic_carbon = None;
    let untested = soil_of(field.clone());
    assert!(untested.2 / untested.0 > found.2 / found.0);
    field.soil.clay = None;
    assert_eq!(soil_of(field).3, SoilFrom::MoistureAndTexture);
}

#[test]
fn a_class_of_a_knife_never_falls_with_the_class() {
    let of = |class| soil_of(Conditions { strength_class: Some(class), ..bare() });
    for pair in STRENGTHS.windows(2) {
        let (softer, harder) = (of(pair[0]), of(pair[1]));
        assert!(softer.0 <= harder.0 && softer.1 < harder.1 && softer.2 <= harder.2, "{pair:?}");
    }
}

#[test]
fn a_soil_beyond_the_formula_is_not_forced_through_it() {
    let soil = |clay: f64, water: f64| SoilMakeup {
        clay: Some(q(clay, "%")),
        organic_carbon: Some(q(2.0, "%")),
        bulk_density: Some(q(1.3, "g/cm3")),
        water: Some(q(water, "%")),
    };
    let run = |soil| {
        let field = Conditions { soil, texture: Some(TextureClass::Clay), ..bare() };
        recommend(&Inputs { field, ..cases::worked_case() }, &K)
    };
    let beyond = run(soil(52.0, 30.0));
    assert_eq!(beyond.down_force.soil.unwrap().from, SoilFrom::MoistureAndTexture);
    let said = beyond.assumed.iter().find(|a| a.what == "soil strength").unwrap();
    assert!(said.range.as_ref().unwrap().contains("clay is 52"), "{said:?}");
    assert!(beyond.trace.find("penetration resistance").is_none());
    // Drier than the formula goes: taken at its dry end, and said.
    let dry = run(soil(25.0, 6.0));
    assert_eq!(dry.down_force.soil.unwrap().from, SoilFrom::StrengthFormula);
    assert!(dry.assumed.iter().any(|a| a.what.contains("beyond the strength formula")));
    let theta = dry.trace.find("penetration resistance").unwrap();
    assert!(theta.inputs.iter().any(|i| i.symbol == "theta" && (i.value - 0.10).abs() < 1e-12));
}
