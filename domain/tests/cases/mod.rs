//! Planters and fields for the tests: one worked case, and generators of many.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::panic,
    clippy::allow_attributes,
    reason = "each test binary uses its own part of this, and a broken case must fail loudly"
)]

use domain::conditions::{
    BallTest, Conditions, CoverCrop, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop,
    ResidueFeel, SoilMakeup, StrengthClass, TextureClass,
};
use domain::planter::{
    Arms, Calibration, CalibrationPoint, Cleaner, ClosingPair, Coulter, CoulterMount, Cylinder,
    DownForce, FrameSection, GroundDrive, Hopper, Notch, OpenerDisc, Planter, RowUnit, Side,
};
use domain::quantity::{Measured, Ratio, bounds, unit};
use domain::settings::{Goals, Inputs};
use proptest::prelude::*;

/// How often a law is tried: `usual` times, or as often as `PROPTEST_CASES` asks.
pub(crate) fn law(usual: u32) -> ProptestConfig {
    let standard = ProptestConfig { failure_persistence: None, ..ProptestConfig::default() };
    match std::env::var_os("PROPTEST_CASES") {
        Some(_) => standard,
        None => ProptestConfig { cases: usual, ..standard },
    }
}

/// A quantity from a value and a UCUM code. Panics on a wrong pair: these are tests.
pub(crate) fn q<Q: Measured>(value: f64, code: &str) -> Q {
    let unit = unit(code).unwrap_or_else(|| panic!("no unit {code}"));
    assert_eq!(unit.kind, Q::KIND, "{code} is of another kind");
    Q::from_si(unit.to_si(value))
}

/// A day of planting.
pub(crate) fn planting() -> chrono::NaiveDate {
    chrono::NaiveDate::from_ymd_opt(2027, 5, 10).unwrap()
}

pub(crate) fn point(psi: f64, lbf: f64) -> CalibrationPoint {
    CalibrationPoint { pressure: q(psi, "[psi]"), force: q(lbf, "[lbf_av]") }
}

pub(crate) fn bags() -> DownForce {
    let calibration = Calibration::from_points(&[point(15.0, 120.0), point(60.0, 420.0)]).unwrap();
    DownForce::AirBag { calibration: Some(calibration) }
}

/// Eight rows at 30 in, air bags, coulter 8 mm above the opener, arms level, 1.6 bu boxes.
pub(crate) fn worked_planter() -> Planter {
    Planter {
        rows: 8,
        row_width: q(30.0, "[in_i]"),
        tyre_rows: Vec::new(),
        unit: RowUnit {
            weight: None,
            attachments: None,
            hopper: Hopper::PerRow { volume: Some(q(1.6, "[bu_us]")) },
            opener: OpenerDisc { new_diameter: q(381.0, "mm"), measured: None, manual_limit: None },
            coulter: Some(Coulter { mount: CoulterMount::Unit, above_opener: Some(q(8.0, "mm")) }),
            cleaner: Cleaner::Floating,
            closing: ClosingPair::SpikedAndRubber,
            closing_lift: None,
            arms: Arms { angle: Some(q(0.0, "deg")), bar_too_high: None, length: None },
        },
        down_force: bags(),
        frame: Vec::new(),
        ground_drive: None,
        depth_lever: None,
        closing_owned: Vec::new(),
    }
}

/// Silt loam, moist, ball crumbles, rye 24 in tall and green over cornstalks.
pub(crate) fn worked_field() -> Conditions {
    Conditions {
        texture: Some(TextureClass::SiltLoam),
        moisture: Some(Moisture::Moist),
        ball: Some(BallTest::Crumbles),
        cover: Some(CoverCrop {
            height: Some(q(24.0, "[in_i]")),
            ground_cover: Some(q(100.0, "%")),
            state: Some(CoverState::GreenStanding),
            ..CoverCrop::of(CoverSpecies::CerealRye)
        }),
        previous_crop: Some(PreviousCrop::Corn),
        previous_yield_bu_ac: Some(200.0),
        ..Conditions::of(Crop::Corn)
    }
}

pub(crate) fn worked_case() -> Inputs {
    let goals = Goals {
        depth: Some(q(2.0, "[in_i]")),
        speed: Some(q(5.0, "[mi_i]/h")),
        ..Goals::default()
    };
    Inputs::new(worked_planter(), worked_field(), goals)
}

fn option<T: Clone + std::fmt::Debug + 'static>(
    strategy: impl Strategy<Value = T> + 'static,
) -> impl Strategy<Value = Option<T>> {
    prop::option::of(strategy)
}

fn within<Q: Measured + std::fmt::Debug + 'static>(
    bound: &'static domain::quantity::Bound<Q>,
) -> impl Strategy<Value = Q> {
    let unit = unit(bound.us).unwrap();
    (bound.least..=bound.most).prop_map(move |v| Q::from_si(unit.to_si(v)))
}

pub(crate) fn down_forces() -> impl Strategy<Value = DownForce> {
    let notches = prop::collection::vec(0.0..450.0_f64, 1..6).prop_map(|mut forces| {
        forces.sort_by(f64::total_cmp);
        let notches = forces
            .iter()
            .enumerate()
            .map(|(i, f)| Notch { label: format!("notch {}", i + 1), force: q(*f, "[lbf_av]") });
        DownForce::Spring { notches: notches.collect() }
    });
    let air = (5.0..30.0_f64, 20.0..60.0_f64, 20.0..150.0_f64, 50.0..400.0_f64).prop_map(
        |(low, more, force, rise)| DownForce::AirBag {
            calibration: Calibration::from_points(&[
                point(low, force),
                point(low + more, force + rise),
            ])
            .ok(),
        },
    );
    let oil =
        (0.8..2.5_f64, 0.3..0.7_f64, 500.0..3000.0_f64, any::<bool>(), option(50.0..400.0_f64))
            .prop_map(|(bore, rod, most, cap, lift)| DownForce::Hydraulic {
                cylinder: Cylinder {
                    bore: q(bore, "[in_i]"),
                    rod: q(bore * rod, "[in_i]"),
                    side: if cap { Side::Cap } else { Side::Rod },
                    lever_ratio: 0.3,
                    most: q(most, "[psi]"),
                },
                calibration: None,
                lift: lift.map(|l| q(l, "[lbf_av]")),
            });
    prop_oneof![
        Just(DownForce::WeightOnly),
        Just(DownForce::AirBag { calibration: None }),
        notches,
        air,
        oil,
        calibrated_oil()
    ]
}

/// A cylinder that was calibrated at three pressures, with or without up-lift.
fn calibrated_oil() -> impl Strategy<Value = DownForce> {
    (300.0..700.0_f64, 20.0..120.0_f64, 150.0..500.0_f64, -30.0..30.0_f64, option(50.0..400.0_f64))
        .prop_map(|(low, least, rise, off, lift)| DownForce::Hydraulic {
            cylinder: Cylinder {
                bore: q(1.25, "[in_i]"),
                rod: q(0.75, "[in_i]"),
                side: Side::Cap,
                lever_ratio: 0.3,
                most: q(2500.0, "[psi]"),
            },
            calibration: Calibration::from_points(&[
                point(low, least),
                point(low + 600.0, least + 0.5 * rise + off),
                point(low + 1200.0, least + rise),
            ])
            .ok(),
            lift: lift.map(|l| q(l, "[lbf_av]")),
        })
}

fn units() -> impl Strategy<Value = RowUnit> {
    let coulter = (any::<bool>(), option(0.0..0.6_f64)).prop_map(|(on_unit, above)| Coulter {
        mount: if on_unit { CoulterMount::Unit } else { CoulterMount::Frame },
        above_opener: above.map(|a| q(a, "[in_i]")),
    });
    let hopper = prop_oneof![
        Just(Hopper::Central),
        option(0.5..3.5_f64).prop_map(|v| Hopper::PerRow { volume: v.map(|v| q(v, "[bu_us]")) })
    ];
    let cleaner = prop_oneof![Just(Cleaner::None), Just(Cleaner::Floating), Just(Cleaner::Fixed)];
    let arms = (option(-12.0..12.0_f64), option(-3.0..3.0_f64), option(12.0..20.0_f64)).prop_map(
        |(angle, bar, length)| Arms {
            angle: angle.map(|a| q(a, "deg")),
            bar_too_high: bar.map(|b| q(b, "[in_i]")),
            length: length.map(|l| q(l, "[in_i]")),
        },
    );
    let weights = (
        option(100.0..300.0_f64),
        option(0.0..250.0_f64),
        option(0.0..80.0_f64),
        13.0..16.5_f64,
        option(0.0..1.5_f64),
    );
    (weights, hopper, option(coulter), cleaner, arms, closings()).prop_map(
        |((weight, attachments, lift, disc, worn), hopper, coulter, cleaner, arms, closing)| {
            RowUnit {
                weight: weight.map(|w| q(w, "[lbf_av]")),
                attachments: attachments.map(|w| q(w, "[lbf_av]")),
                hopper,
                opener: OpenerDisc {
                    new_diameter: q(disc, "[in_i]"),
                    measured: worn.map(|w| q(disc - w, "[in_i]")),
                    manual_limit: None,
                },
                coulter,
                cleaner,
                closing,
                closing_lift: lift.map(|w| q(w, "[lbf_av]")),
                arms,
            }
        },
    )
}

fn closings() -> impl Strategy<Value = ClosingPair> {
    prop::sample::select(vec![
        ClosingPair::Rubber,
        ClosingPair::CastIron,
        ClosingPair::SpikedAndRubber,
        ClosingPair::TwoSpiked,
        ClosingPair::Finger,
    ])
}

pub(crate) fn planters() -> impl Strategy<Value = Planter> {
    let frame = prop::collection::vec((2_u16..12, 1500.0..9000.0_f64, 0.0..1000.0_f64), 0..3);
    (
        2_u16..25,
        15.0..38.0_f64,
        units(),
        down_forces(),
        frame,
        prop::collection::vec(closings(), 0..3),
    )
        .prop_map(|(rows, width, unit, down_force, frame, closing_owned)| Planter {
            rows,
            row_width: q(width, "[in_i]"),
            tyre_rows: Vec::new(),
            unit,
            down_force,
            frame: frame
                .into_iter()
                .enumerate()
                .map(|(i, (rows, weight, hitch))| FrameSection {
                    name: format!("section {}", i + 1),
                    rows,
                    empty_weight: q(weight, "[lbf_av]"),
                    on_hitch: q(hitch, "[lbf_av]"),
                    wheels: 2,
                })
                .collect(),
            ground_drive: Some(GroundDrive {
                section: "section 1".to_owned(),
                pull: q(200.0, "[lbf_av]"),
                friction: None,
            }),
            depth_lever: None,
            closing_owned,
        })
}

pub(crate) const MOISTURES: [Moisture; 5] =
    [Moisture::Dry, Moisture::SlightlyMoist, Moisture::Moist, Moisture::Wet, Moisture::AtCapacity];

pub(crate) fn covers() -> impl Strategy<Value = CoverCrop> {
    let species = prop::sample::select(vec![
        CoverSpecies::CerealRye,
        CoverSpecies::Triticale,
        CoverSpecies::CrimsonClover,
        CoverSpecies::HairyVetch,
        CoverSpecies::GrassMix,
    ]);
    let state = prop::sample::select(vec![
        CoverState::GreenStanding,
        CoverState::GreenRolled,
        CoverState::Dying,
        CoverState::DeadDamp,
        CoverState::DeadCrisp,
    ]);
    (species, option(within(&bounds::COVER_HEIGHT)), option(within(&bounds::SHARE)), option(state))
        .prop_map(|(species, height, ground_cover, state)| CoverCrop {
            height,
            ground_cover,
            state,
            ..CoverCrop::of(species)
        })
}

pub(crate) const STRENGTHS: [StrengthClass; 4] =
    [StrengthClass::Loose, StrengthClass::Good, StrengthClass::Firm, StrengthClass::Hard];

fn strengths() -> impl Strategy<Value = StrengthClass> {
    prop::sample::select(STRENGTHS.to_vec())
}

/// What the soil is made of, in and beyond what the strength formula covers.
pub(crate) fn make_ups() -> impl Strategy<Value = SoilMakeup> {
    let share = |least: f64, most: f64| option((least..=most).prop_map(Ratio::from_si));
    let density = option(within(&bounds::BULK_DENSITY));
    (share(0.0, 0.6), share(0.0, 0.06), density, share(0.02, 0.6)).prop_map(
        |(clay, organic_carbon, bulk_density, water)| SoilMakeup {
            clay,
            organic_carbon,
            bulk_density,
            water,
        },
    )
}

pub(crate) fn fields() -> impl Strategy<Value = Conditions> {
    let textures = prop::sample::select(vec![
        TextureClass::Sand,
        TextureClass::SandyLoam,
        TextureClass::Loam,
        TextureClass::SiltLoam,
        TextureClass::SiltyClayLoam,
        TextureClass::Clay,
    ]);
    let balls = prop::sample::select(vec![BallTest::Crumbles, BallTest::Cracks, BallTest::Deforms]);
    let crops = prop::sample::select(vec![Crop::Corn, Crop::Soybean]);
    let previous = prop::sample::select(vec![
        PreviousCrop::Corn,
        PreviousCrop::Soybean,
        PreviousCrop::Wheat,
        PreviousCrop::Other,
    ]);
    let feels =
        prop::sample::select(vec![ResidueFeel::Crisp, ResidueFeel::Pliable, ResidueFeel::Wet]);
    let soil = (
        option(textures),
        option(prop::sample::select(MOISTURES.to_vec())),
        option(balls),
        option(within(&bounds::RIBBON_LENGTH)),
        option(within(&bounds::SOIL_TEMPERATURE)),
        (option(within(&bounds::PENETRATION_RESISTANCE)), option(strengths()), make_ups()),
    );
    let ground = (
        option(covers()),
        option(previous),
        option(20.0..300.0_f64),
        option(within(&bounds::SHARE)),
        option(feels),
        option(within(&bounds::RAIN)),
    );
    (crops, soil, ground).prop_map(|(crop, soil, ground)| {
        let (texture, moisture, ball, ribbon, soil_temperature, strength) = soil;
        let (penetration, strength_class, soil) = strength;
        let (cover, previous_crop, previous_yield_bu_ac, residue_cover, residue_feel, rain) =
            ground;
        Conditions {
            texture,
            moisture,
            ball,
            ribbon,
            soil_temperature,
            rain,
            penetration,
            cover,
            previous_crop,
            previous_yield_bu_ac,
            residue_cover,
            residue_feel,
            soil,
            strength_class,
            ..Conditions::of(crop)
        }
    })
}

pub(crate) fn inputs() -> impl Strategy<Value = Inputs> {
    (planters(), fields(), option(1.0..3.5_f64), option(2.0..9.0_f64)).prop_map(
        |(planter, field, depth, speed)| {
            let goals = Goals {
                depth: depth.map(|d| q(d, "[in_i]")),
                speed: speed.map(|s| q(s, "[mi_i]/h")),
                ..Goals::default()
            };
            Inputs::new(planter, field, goals)
        },
    )
}
