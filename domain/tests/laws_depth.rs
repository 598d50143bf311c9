//! Depth: each rule alone, what the lever does, and laws.

mod cases;

use cases::{MOISTURES, fields, planters, q, worked_field, worked_planter};
use chrono::NaiveDate;
use domain::conditions::{
    Conditions, CoverState, Crop, Moisture, ResidueFeel, StrengthClass, TextureClass,
};
use domain::planter::{DepthLever, OpenerDisc, real_depth};
use domain::provenance::{Advice, Coefficients, Reason};
use domain::quantity::{Length, Measured};
use domain::settings::{DepthAdvice, depth};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn inches(length: Length) -> f64 {
    length.si() / 0.0254
}

fn says(reasons: &[Reason], words: &str) -> bool {
    reasons.iter().any(|r| r.text.contains(words))
}

fn run(c: &Conditions) -> Advice<DepthAdvice> {
    depth(c, &worked_planter(), &K)
}

/// What a rule moves, by a part of its sentence; 0 where it is silent.
fn moved(c: &Conditions, words: &str) -> f64 {
    let advice = run(c);
    let moves = advice.choice.moves.iter().filter(|m| m.because.text.contains(words));
    moves.map(|m| inches(m.by)).sum()
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found}, not {wanted}");
}

/// Moist silt loam at 60 °F, little residue, no cover.
fn plain(crop: Crop) -> Conditions {
    Conditions {
        crop,
        cover: None,
        residue_cover: Some(q(10.0, "%")),
        soil_temperature: Some(q(60.0, "[degF]")),
        ..worked_field()
    }
}

fn day(month: u32, day: u32) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(2026, month, day)
}

#[test]
fn each_rule_moves_corn_by_its_step() {
    let with = |change: &dyn Fn(&mut Conditions)| {
        let mut c = plain(Crop::Corn);
        change(&mut c);
        c
    };
    assert!(run(&plain(Crop::Corn)).choice.moves.is_empty());
    near(moved(&with(&|c| c.moisture = Some(Moisture::Dry)), "dry soil: at least 2 in"), 0.5);
    near(moved(&with(&|c| c.moisture = Some(Moisture::SlightlyMoist)), "drying"), 0.25);
    near(moved(&with(&|c| c.soil_temperature = Some(q(54.0, "[degF]"))), "cool soil"), -0.25);
    near(moved(&with(&|c| c.soil_temperature = Some(q(56.0, "[degF]"))), "cool soil"), 0.0);
    near(moved(&with(&|c| c.moisture = Some(Moisture::Wet)), "wet soil"), -0.25);
    let cool_wet = with(&|c| {
        c.moisture = Some(Moisture::Wet);
        c.soil_temperature = Some(q(50.0, "[degF]"));
    });
    near(moved(&cool_wet, "cool and wet: 1.5 in"), -0.5);
    near(moved(&with(&|c| c.texture = Some(TextureClass::LoamySand)), "coarse"), 0.25);
    let early = |date| with(&|c| (c.soil_temperature, c.planting_date) = (None, date));
    near(moved(&early(day(4, 24)), "early date"), -0.25);
    near(moved(&early(day(4, 25)), "early date"), 0.0);
    near(moved(&with(&|c| c.planting_date = day(4, 1)), "early date"), 0.0);
    let tucked = with(&|c| {
        c.residue_cover = Some(q(80.0, "%"));
        c.residue_feel = Some(ResidueFeel::Wet);
        c.residue_spread = Some(domain::conditions::ResidueSpread::Piles);
    });
    near(moved(&tucked, "hairpins are likely"), 0.25);
}

#[test]
fn each_rule_moves_soybean_by_its_step() {
    // Michigan State University Extension 2012: 1 to 1.5 in; shallow end early, in high residue, on
    // fine and moist soil; deep end late, on coarse or dry soil; to 2 in on sand.
    let with = |change: &dyn Fn(&mut Conditions)| {
        let mut c = plain(Crop::Soybean);
        change(&mut c);
        c
    };
    near(inches(run(&plain(Crop::Soybean)).choice.start), 1.25);
    near(moved(&with(&|c| c.moisture = Some(Moisture::Dry)), "only to reach moisture"), 0.5);
    near(moved(&with(&|c| c.moisture = Some(Moisture::SlightlyMoist)), "drying"), 0.25);
    near(moved(&with(&|c| c.moisture = Some(Moisture::Wet)), "wet soil"), -0.25);
    near(moved(&with(&|c| c.texture = Some(TextureClass::Sand)), "on sand up to 2 in"), 0.25);
    near(moved(&with(&|c| c.texture = Some(TextureClass::Clay)), "fine, moist"), -0.25);
    let fine_dry = with(&|c| {
        (c.texture, c.moisture) = (Some(TextureClass::Clay), Some(Moisture::SlightlyMoist));
    });
    near(moved(&fine_dry, "fine, moist"), 0.0);
    near(moved(&with(&|c| c.residue_cover = Some(q(61.0, "%"))), "much residue"), -0.25);
    near(moved(&with(&|c| c.residue_cover = Some(q(59.0, "%"))), "much residue"), 0.0);
    near(moved(&with(&|c| c.soil_temperature = Some(q(50.0, "[degF]"))), "early or cool"), -0.25);
    let dated = |date| with(&|c| (c.soil_temperature, c.planting_date) = (None, date));
    near(moved(&dated(day(4, 30)), "early or cool"), -0.25);
    near(moved(&dated(day(5, 1)), "early or cool"), 0.0);
    near(moved(&dated(day(6, 1)), "late planting"), 0.0);
    near(moved(&dated(day(6, 2)), "late planting"), 0.25);
    let early_fine = with(&|c| {
        (c.soil_temperature, c.planting_date) = (None, day(4, 20));
        c.texture = Some(TextureClass::ClayLoam);
    });
    near(inches(run(&early_fine).choice.start), 1.0);
    let tucked = with(&|c| {
        c.residue_cover = Some(q(80.0, "%"));
        c.residue_feel = Some(ResidueFeel::Wet);
        c.residue_spread = Some(domain::conditions::ResidueSpread::Piles);
    });
    assert!(says(&run(&tucked).watch, "planting too shallow for the opener"));
    assert!(!says(&run(&plain(Crop::Soybean)).watch, "planting too shallow"));
}

#[test]
fn hairpins_count_with_the_coulter_as_advised() {
    // Loose soil takes the coulter off; without it the risk is no longer high.
    let mut c = plain(Crop::Corn);
    c.residue_cover = Some(q(80.0, "%"));
    c.residue_feel = Some(ResidueFeel::Pliable);
    c.strength_class = Some(StrengthClass::Loose);
    near(moved(&c, "hairpins are likely"), 0.0);
    c.residue_feel = Some(ResidueFeel::Wet);
    near(moved(&c, "hairpins are likely"), 0.25);
}

#[test]
fn the_lever_says_what_it_misses() {
    let lever = |first: f64, step: f64| {
        let mut planter = worked_planter();
        planter.depth_lever =
            Some(DepthLever { first: q(first, "[in_i]"), step: q(step, "[in_i]"), notches: 12 });
        depth(&plain(Crop::Corn), &planter, &K)
    };
    // 0.5 in and quarter steps meet 2 in; 0.6 in and quarter steps give 2.1 in.
    let fits = lever(0.5, 0.25);
    assert!(!says(&fits.watch, "than the depth to start with"));
    assert!(says(&fits.watch, "other rows"));
    let deeper = lever(0.6, 0.25);
    assert!(says(&deeper.watch, "2.10 in (53 mm), 0.10 in (3 mm) deeper"), "{:?}", deeper.watch);
    let shallower = lever(0.9, 0.25);
    assert!(says(&shallower.watch, "1.90 in (48 mm), 0.10 in (3 mm) shallower"));
    assert!(!says(&run(&plain(Crop::Corn)).watch, "other rows"));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 10_000, ..ProptestConfig::default() })]

    #[test]
    fn never_below_the_floor_nor_beyond_the_deepest(
        mut field in fields(), planter in planters(), month in 3_u32..8, on in 1_u32..28,
    ) {
        field.planting_date = day(month, on);
        let advice = depth(&field, &planter, &K);
        let choice = &advice.choice;
        let start = inches(choice.start);
        let (low, high) = (inches(choice.safe_low), inches(choice.safe_high));
        prop_assert!(low - 1e-9 <= start && start <= high + 1e-9);
        match field.crop {
            // University of Illinois 2013: seed never under 1.25 in, setting seldom under 1.5 in.
            Crop::Corn => prop_assert!(low >= 1.5 - 1e-9 && start >= K.corn_floor.value),
            // Michigan State University Extension 2012: never beyond 2.5 in.
            Crop::Soybean => prop_assert!(high <= 2.5 + 1e-9),
        }
        // What moved it adds up to it, but for the ends of the safe range.
        let moved: f64 = choice.moves.iter().map(|m| inches(m.by)).sum();
        let sum = (inches(choice.base) + moved).clamp(low, high);
        prop_assert!((sum - start).abs() < 1e-9);
        prop_assert!(choice.moves.iter().all(|m| advice.because.contains(&m.because)));
        prop_assert_eq!(depth(&field, &planter, &K), advice);
    }

    #[test]
    fn drier_soil_is_never_planted_shallower(
        mut field in fields(), planter in planters(), month in 3_u32..8, on in 1_u32..28,
    ) {
        field.planting_date = day(month, on);
        let mut last = f64::INFINITY;
        for moisture in MOISTURES {
            field.moisture = Some(moisture);
            let start = inches(depth(&field, &planter, &K).choice.start);
            prop_assert!(start <= last + 1e-9, "{moisture:?}: {start} below {last}");
            last = start;
        }
    }

    #[test]
    fn later_soybean_is_never_planted_shallower(
        mut field in fields(), planter in planters(), first in 60_u32..240, more in 0_u32..60,
    ) {
        field.crop = Crop::Soybean;
        let at = |c: &mut Conditions, ordinal| {
            c.planting_date = NaiveDate::from_yo_opt(2026, ordinal);
            inches(depth(c, &planter, &K).choice.start)
        };
        let early = at(&mut field, first);
        prop_assert!(at(&mut field, first + more) >= early - 1e-9);
    }

    #[test]
    fn a_worn_disc_never_plants_deeper(
        field in fields(), lever in 0.5..4.0_f64, worn in 0.0..1.0_f64, more in 0.0..1.0_f64,
        first in 0.25..1.0_f64, step in 0.05..0.5_f64,
    ) {
        let disc = |worn: f64| OpenerDisc {
            new_diameter: q(15.0, "[in_i]"),
            measured: Some(q(15.0 - worn, "[in_i]")),
            manual_limit: None,
        };
        let at = |worn| real_depth(q(lever, "[in_i]"), &disc(worn)).si();
        prop_assert!(at(worn + more) <= at(worn) + 1e-12);
        // The lever asks for more by just what is lost, and its notch never asks for less.
        let advised = |worn| {
            let mut planter = worked_planter();
            planter.unit.opener = disc(worn);
            planter.depth_lever = Some(DepthLever {
                first: q(first, "[in_i]"), step: q(step, "[in_i]"), notches: 60,
            });
            depth(&field, &planter, &K).choice
        };
        let (sharp, worn_out) = (advised(worn), advised(worn + more));
        prop_assert_eq!(sharp.start, worn_out.start);
        let asked = inches(worn_out.lever_depth) - inches(sharp.lever_depth);
        prop_assert!((asked - more / 2.0).abs() < 1e-9);
        let notch = |choice: &DepthAdvice| choice.lever.expect("a lever").notch;
        prop_assert!(notch(&worn_out) >= notch(&sharp));
    }
}

#[test]
fn dry_bare_corn_may_go_to_three_inches_and_no_further() {
    let mut c = plain(Crop::Corn);
    c.moisture = Some(Moisture::Dry);
    near(inches(run(&c).choice.safe_high), 3.0);
    c.residue_cover = Some(q(40.0, "%"));
    near(inches(run(&c).choice.safe_high), 2.5);
    c.cover = worked_field().cover.map(|mut cover| {
        cover.state = Some(CoverState::DeadCrisp);
        cover
    });
    near(inches(run(&c).choice.safe_low), 2.0);
}
