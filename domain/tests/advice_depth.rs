//! How deep: cases that can be judged by hand, and the depths that are never advised.

mod cases;

use cases::{fields, planters, q, worked_field, worked_planter};
use chrono::NaiveDate;
use domain::conditions::{Conditions, Crop, Moisture, TextureClass};
use domain::planter::{DepthLever, OpenerDisc};
use domain::provenance::{Advice, Coefficients, Reason};
use domain::quantity::{Length, Measured};
use domain::settings::depth;
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn inches(length: Length) -> f64 {
    length.si() / 0.0254
}

fn says(reasons: &[Reason], words: &str) -> bool {
    reasons.iter().any(|r| r.text.contains(words))
}

fn explained<T>(advice: &Advice<T>) -> bool {
    let all = advice.because.iter().chain(&advice.watch);
    !advice.because.is_empty() && all.clone().all(|r| !r.text.is_empty() && !r.source.is_empty())
}

fn start(c: &Conditions) -> f64 {
    inches(depth(c, &worked_planter(), &K).choice.start)
}

#[test]
fn corn_starts_at_two_inches() {
    let advice = depth(&worked_field(), &worked_planter(), &K);
    let choice = &advice.choice;
    assert!((inches(choice.start) - 2.0).abs() < 1e-9);
    assert!((inches(choice.safe_low) - 1.5).abs() < 1e-9);
    assert!((inches(choice.safe_high) - 2.5).abs() < 1e-9);
    assert!((inches(choice.lever_depth) - 2.0).abs() < 1e-9);
    assert!(says(&advice.watch, "under the mat"));
}

#[test]
fn each_condition_moves_corn() {
    let mut field = worked_field();
    field.moisture = Some(Moisture::Dry);
    assert!((start(&field) - 2.5).abs() < 1e-9, "dry");
    field.moisture = Some(Moisture::Wet);
    field.soil_temperature = Some(q(50.0, "[degF]"));
    // Straw on soft soil tucks ahead of a coulter: a step deeper than cool and wet alone.
    assert!((start(&field) - 1.75).abs() < 1e-9, "cool, wet, hairpins");
    let mut bare = field.clone();
    (bare.cover, bare.residue_cover) = (None, Some(q(10.0, "%")));
    assert!((start(&bare) - 1.5).abs() < 1e-9, "cool and wet");
    field.moisture = Some(Moisture::Moist);
    assert!((start(&field) - 1.75).abs() < 1e-9, "cool and moist");
    field.soil_temperature = Some(q(65.0, "[degF]"));
    field.texture = Some(TextureClass::Sand);
    assert!((start(&field) - 2.25).abs() < 1e-9, "sand");
    // Dry, bare soil lets corn down to 3 in.
    let mut bare = Conditions::of(Crop::Corn);
    bare.moisture = Some(Moisture::Dry);
    bare.residue_cover = Some(q(10.0, "%"));
    let choice = depth(&bare, &worked_planter(), &K).choice;
    assert!((inches(choice.safe_high) - 3.0).abs() < 1e-9);
    assert!((inches(choice.safe_low) - 2.0).abs() < 1e-9);
}

#[test]
fn soybean_stays_shallow_and_says_that_sources_differ() {
    let mut field = worked_field();
    field.crop = Crop::Soybean;
    field.cover = None;
    field.residue_cover = Some(q(30.0, "%"));
    assert!((start(&field) - 1.25).abs() < 1e-9, "moist silt loam");
    field.planting_date = NaiveDate::from_ymd_opt(2026, 4, 20);
    assert!((start(&field) - 1.0).abs() < 1e-9, "early");
    field.planting_date = NaiveDate::from_ymd_opt(2026, 6, 10);
    assert!((start(&field) - 1.5).abs() < 1e-9, "late");
    field.texture = Some(TextureClass::Sand);
    field.moisture = Some(Moisture::Dry);
    let advice = depth(&field, &worked_planter(), &K);
    assert!((inches(advice.choice.start) - 2.0).abs() < 1e-9, "dry sand");
    assert!(says(&advice.watch, "1.75 in") && says(&advice.watch, "never planted beyond 2.5 in"));
}

#[test]
fn worn_discs_ask_for_a_deeper_notch() {
    let mut planter = worked_planter();
    planter.unit.opener = OpenerDisc {
        new_diameter: q(15.0, "[in_i]"),
        measured: Some(q(14.5, "[in_i]")),
        manual_limit: None,
    };
    planter.depth_lever =
        Some(DepthLever { first: q(0.5, "[in_i]"), step: q(0.25, "[in_i]"), notches: 12 });
    let choice = depth(&worked_field(), &planter, &K).choice;
    assert!((inches(choice.lever_depth) - 2.25).abs() < 1e-9);
    let lever = choice.lever.unwrap();
    assert_eq!(lever.notch, 8, "notch 8 says 2.25 in, a quarter inch is worn off");
    assert!((inches(lever.depth) - 2.0).abs() < 1e-9);
}

#[test]
fn a_coarse_lever_is_not_set_below_the_floor() {
    let mut planter = worked_planter();
    planter.depth_lever =
        Some(DepthLever { first: q(0.9, "[in_i]"), step: q(0.5, "[in_i]"), notches: 4 });
    let mut field = worked_field();
    field.moisture = Some(Moisture::Wet);
    field.soil_temperature = Some(q(50.0, "[degF]"));
    // 1.4 in lies nearest to 1.5 in, but corn is never set shallower than 1.5 in.
    let lever = depth(&field, &planter, &K).choice.lever.unwrap();
    assert!((inches(lever.depth) - 1.9).abs() < 1e-9, "{}", inches(lever.depth));
    planter.depth_lever =
        Some(DepthLever { first: q(0.5, "[in_i]"), step: q(0.5, "[in_i]"), notches: 2 });
    let advice = depth(&field, &planter, &K);
    assert!(says(&advice.watch, "no notch of this lever fits"));
}

proptest! {
    #![proptest_config(cases::law(1_000))]

    #[test]
    fn depth_never_leaves_what_is_safe(
        mut field in fields(), mut planter in planters(), month in 3_u32..8, day in 1_u32..28,
        first in 0.25..1.0_f64, step in 0.1..0.5_f64,
    ) {
        field.planting_date = NaiveDate::from_ymd_opt(2026, month, day);
        planter.depth_lever =
            Some(DepthLever { first: q(first, "[in_i]"), step: q(step, "[in_i]"), notches: 30 });
        let advice = depth(&field, &planter, &K);
        prop_assert!(explained(&advice));
        let choice = advice.choice;
        let (low, high) = (inches(choice.safe_low), inches(choice.safe_high));
        let start = inches(choice.start);
        prop_assert!(start >= low - 1e-9 && start <= high + 1e-9);
        match field.crop {
            Crop::Corn => prop_assert!(low >= 1.5 - 1e-9 && high <= 3.0 + 1e-9),
            Crop::Soybean => prop_assert!(low >= 1.0 - 1e-9 && high <= 2.0 + 1e-9),
        }
        prop_assert!(choice.lever_depth >= choice.start);
        // A lever of many small steps always has a notch inside.
        let notch = inches(choice.lever.unwrap().depth);
        prop_assert!(notch >= low - 1e-4 && notch <= high + 1e-4, "{notch} outside {low} to {high}");
    }
}
