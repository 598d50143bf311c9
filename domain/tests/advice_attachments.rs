//! Coulter, row cleaner and closing wheels: cases that can be judged by hand, and laws.

mod cases;

use cases::{fields, planters, q, worked_field, worked_planter};
use domain::conditions::{
    Conditions, CoverState, HairpinRisk, Moisture, ResidueFeel, WrapRisk, mat_fraction,
};
use domain::planter::{Cleaner, ClosingPair, Planter};
use domain::provenance::{Advice, Coefficients, Reason};
use domain::quantity::Measured;
use domain::settings as engine;
use domain::settings::{
    CleanerUse, ClosingAdvice, ClosingSpring, CoulterAdvice, CoulterUse, Pass, RowCleanerAdvice,
};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn pass() -> Pass {
    Pass { depth: q(2.0, "[in_i]"), speed: q(5.0, "[mi_i]/h") }
}

fn closing(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<ClosingAdvice> {
    engine::closing(c, p, pass(), k)
}

fn coulter(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<CoulterAdvice> {
    engine::coulter(c, p.unit.coulter, k)
}

fn row_cleaner(c: &Conditions, p: &Planter, k: &Coefficients) -> Advice<RowCleanerAdvice> {
    engine::row_cleaner(c, p.unit.cleaner, k)
}

fn says(reasons: &[Reason], words: &str) -> bool {
    reasons.iter().any(|r| r.text.contains(words))
}

fn explained<T>(advice: &Advice<T>) -> bool {
    let all = advice.because.iter().chain(&advice.watch);
    !advice.because.is_empty() && all.clone().all(|r| !r.text.is_empty() && !r.source.is_empty())
}

#[test]
fn moist_silt_loam_under_a_mat_is_closed_by_spike_and_rubber() {
    let advice = closing(&worked_field(), &worked_planter(), &K);
    assert_eq!(advice.choice.pair, ClosingPair::SpikedAndRubber);
    assert_eq!(advice.choice.spring, ClosingSpring::Light);
    assert!(!advice.choice.change && advice.choice.try_on_two_rows.is_none());
}

#[test]
fn what_hangs_in_the_shed_is_used_and_tried_on_two_rows_first() {
    let mut planter = worked_planter();
    planter.unit.closing = ClosingPair::Rubber;
    let borrow = closing(&worked_field(), &planter, &K);
    assert_eq!(borrow.choice.pair, ClosingPair::Rubber);
    assert_eq!(borrow.choice.try_on_two_rows, Some(ClosingPair::SpikedAndRubber));
    assert!(says(&borrow.watch, "borrow"));
    planter.closing_owned = vec![ClosingPair::Finger, ClosingPair::SpikedAndRubber];
    let own = closing(&worked_field(), &planter, &K);
    assert_eq!(own.choice.pair, ClosingPair::SpikedAndRubber);
    assert!(own.choice.change && says(&own.watch, "on two rows first"));
    let mut wet = worked_field();
    wet.moisture = Some(Moisture::Wet);
    let wet = closing(&wet, &planter, &K);
    assert_eq!((wet.choice.pair, wet.choice.spring), (ClosingPair::Finger, ClosingSpring::None));
}

#[test]
fn soft_soil_and_tough_residue_take_the_coulter_off() {
    let mut field = worked_field();
    let run = coulter(&field, &worked_planter(), &K).choice;
    assert_eq!((run.coulter, run.hairpins), (CoulterUse::Run, HairpinRisk::Low));
    assert!((run.above_opener.unwrap().si() - 0.008).abs() < 1e-9);
    field.penetration = Some(q(80.0, "[psi]"));
    field.residue_feel = Some(ResidueFeel::Pliable);
    let off = coulter(&field, &worked_planter(), &K);
    assert_eq!(off.choice.coulter, CoulterUse::TakeOff);
    assert!(says(&off.because, "soft soil and tough residue"));
    assert!(says(&off.watch, "two rows") && says(&off.watch, "down force"));
    field.penetration = Some(q(150.0, "[psi]"));
    let firm = coulter(&field, &worked_planter(), &K);
    assert_eq!(firm.choice.coulter, CoulterUse::Run);
    assert!(says(&firm.watch, "tucked straw"));
    let mut without = worked_planter();
    without.unit.coulter = None;
    assert_eq!(coulter(&field, &without, &K).choice.coulter, CoulterUse::NotFitted);
}

#[test]
fn hairpin_risk_follows_its_causes() {
    let mut field = worked_field();
    let risk = |f: &Conditions| coulter(f, &worked_planter(), &K).choice.hairpins;
    assert_eq!(risk(&field), HairpinRisk::Low);
    field.residue_feel = Some(ResidueFeel::Wet);
    assert_eq!(risk(&field), HairpinRisk::Some);
    if let Some(cover) = &mut field.cover {
        cover.state = Some(CoverState::Dying);
    }
    let advice = coulter(&field, &worked_planter(), &K);
    assert_eq!(advice.choice.hairpins, HairpinRisk::High);
    assert!(says(&advice.watch, "dying") && says(&advice.watch, "wet residue"));
}

#[test]
fn tall_green_rye_floats_or_lifts_the_cleaner() {
    let field = worked_field();
    let mut planter = worked_planter();
    let float = row_cleaner(&field, &planter, &K);
    assert_eq!(float.choice.cleaner, CleanerUse::Float);
    assert_eq!(float.choice.wrap, WrapRisk::High);
    assert!(says(&float.watch, "sources differ"));
    planter.unit.cleaner = Cleaner::Fixed;
    assert_eq!(row_cleaner(&field, &planter, &K).choice.cleaner, CleanerUse::Lift);
    planter.unit.cleaner = Cleaner::None;
    assert_eq!(row_cleaner(&field, &planter, &K).choice.cleaner, CleanerUse::NotFitted);
}

#[test]
fn dead_residue_is_skimmed_and_bare_ground_left_alone() {
    let mut field = worked_field();
    field.cover = None;
    let choice = row_cleaner(&field, &worked_planter(), &K).choice;
    assert_eq!((choice.cleaner, choice.wrap), (CleanerUse::Skim, WrapRisk::Low));
    field.residue_cover = Some(q(5.0, "%"));
    assert_eq!(row_cleaner(&field, &worked_planter(), &K).choice.cleaner, CleanerUse::Lift);
}

proptest! {
    #![proptest_config(cases::law(1_000))]

    #[test]
    fn the_pair_is_always_at_hand(field in fields(), planter in planters()) {
        let advice = closing(&field, &planter, &K);
        prop_assert!(explained(&advice));
        let pair = advice.choice.pair;
        prop_assert!(pair == planter.unit.closing || planter.closing_owned.contains(&pair));
        prop_assert_eq!(advice.choice.change, pair != planter.unit.closing);
        let wet = matches!(field.moisture, Some(Moisture::Wet | Moisture::AtCapacity));
        prop_assert!(!wet || advice.choice.spring == ClosingSpring::None);
    }

    #[test]
    fn what_is_not_fitted_is_not_run(field in fields(), planter in planters()) {
        let blade = coulter(&field, &planter, &K);
        let sweep = row_cleaner(&field, &planter, &K);
        prop_assert!(explained(&blade) && explained(&sweep));
        prop_assert_eq!(planter.unit.coulter.is_none(), blade.choice.coulter == CoulterUse::NotFitted);
        prop_assert_eq!(planter.unit.cleaner == Cleaner::None, sweep.choice.cleaner == CleanerUse::NotFitted);
        prop_assert_eq!(blade.choice.above_opener.is_some(), blade.choice.coulter == CoulterUse::Run);
        prop_assert!(sweep.choice.wrap < WrapRisk::High || sweep.choice.cleaner != CleanerUse::Skim);
    }

    #[test]
    fn the_mat_is_a_share_with_its_calculation(field in fields()) {
        let mat = mat_fraction(&field, &K);
        prop_assert!(0.0 <= mat.low && mat.low <= mat.likely);
        prop_assert!(mat.likely <= mat.high && mat.high <= 1.0);
        prop_assert!(!mat.steps.is_empty());
    }
}
