//! What the advice says in cases that can be judged by hand, and what it never says.

mod cases;

use cases::{fields, planters, q, worked_field, worked_planter};
use chrono::NaiveDate;
use domain::conditions::{
    BallTest, Conditions, CoverState, Crop, HairpinRisk, Moisture, ResidueFeel, TextureClass, Today,
    WrapRisk, fitness, mat_fraction,
};
use domain::planter::{Cleaner, ClosingPair, DepthLever, OpenerDisc};
use domain::provenance::{Advice, Coefficients, Reason};
use domain::quantity::{Length, Measured, unit};
use domain::settings::{
    CleanerUse, ClosingSpring, CoulterUse, SeedingGoal, closing, coulter, depth, row_cleaner,
    seeding,
};
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

mod fit_to_plant {
    use super::*;

    #[test]
    fn a_ball_that_crumbles_says_plant() {
        let today = fitness(&worked_field(), &K);
        assert_eq!(today.choice, Today::Plant);
        assert!(says(&today.because, "ball crumbles"));
        assert!(says(&today.watch, "rain within two days and soil near 50 °F: wait"));
        assert!(today.assumed.iter().any(|a| a.what == "rain of the next 48 h"));
    }

    #[test]
    fn warm_soil_does_not_override_the_ball() {
        let mut field = worked_field();
        field.ball = Some(BallTest::Deforms);
        field.soil_temperature = Some(q(70.0, "[degF]"));
        let today = fitness(&field, &K);
        assert_eq!(today.choice, Today::Wait);
        assert!(says(&today.because, "like putty") && says(&today.watch, "warmth does not"));
    }

    #[test]
    fn putty_at_capacity_stops() {
        let mut field = worked_field();
        field.ball = Some(BallTest::Deforms);
        field.moisture = Some(Moisture::AtCapacity);
        assert_eq!(fitness(&field, &K).choice, Today::Stop);
    }

    #[test]
    fn three_inches_of_ribbon_is_the_limit_and_more_waits() {
        let mut field = worked_field();
        for (ribbon, code, today) in [
            (3.0, "[in_i]", Today::Plant),
            (76.2, "mm", Today::Plant),
            (3.1, "[in_i]", Today::Wait),
        ] {
            field.ribbon = Some(q(ribbon, code));
            assert_eq!(fitness(&field, &K).choice, today, "{ribbon} {code}");
        }
        // The ball says fit, the ribbon does not: the safer counts and the answer says so.
        let both = fitness(&field, &K);
        assert!(says(&both.because, "3.1 in") && says(&both.watch, "the safer one counts"));
    }

    #[test]
    fn cold_soil_waits_and_severe_cold_stops() {
        let mut field = worked_field();
        field.rain = Some(q(0.0, "[in_i]"));
        for (now, low, today) in [
            (50.0, 50.0, Today::Plant),
            (49.9, 49.9, Today::Wait),
            (55.0, 49.0, Today::Wait),
            (55.0, 40.0, Today::Wait),
            (55.0, 39.9, Today::Stop),
            (39.0, 39.0, Today::Stop),
        ] {
            field.soil_temperature = Some(q(now, "[degF]"));
            field.soil_low = Some(q(low, "[degF]"));
            assert_eq!(fitness(&field, &K).choice, today, "{now} now, {low} to come");
        }
    }

    #[test]
    fn a_reading_beside_the_cover_is_corrected() {
        let mut field = worked_field();
        field.rain = Some(q(0.0, "[in_i]"));
        field.soil_temperature = Some(q(51.0, "[degF]"));
        assert_eq!(fitness(&field, &K).choice, Today::Plant);
        field.read_outside_cover = true;
        let cooler = fitness(&field, &K);
        assert_eq!(cooler.choice, Today::Wait);
        assert!(says(&cooler.because, "49.4 °F under the living cover"));
        // Soybean: 0.7 to 2.4 K, so that the range may reach below what is likely.
        field.crop = Crop::Soybean;
        field.soil_temperature = Some(q(53.5, "[degF]"));
        let unsure = fitness(&field, &K);
        assert_eq!(unsure.choice, Today::Plant);
        assert!(says(&unsure.watch, "measure there"));
        if let Some(cover) = &mut field.cover {
            cover.state = Some(CoverState::DeadCrisp);
        }
        assert!(!says(&fitness(&field, &K).watch, "measure there"));
    }

    #[test]
    fn cold_rain_waits_and_warm_rain_is_only_watched() {
        let mut field = worked_field();
        field.soil_temperature = Some(q(51.0, "[degF]"));
        field.rain = Some(q(0.5, "[in_i]"));
        assert_eq!(fitness(&field, &K).choice, Today::Wait);
        field.soil_temperature = Some(q(60.0, "[degF]"));
        assert_eq!(fitness(&field, &K).choice, Today::Plant);
        field.soil_temperature = Some(q(51.0, "[degF]"));
        field.rain = Some(q(0.1, "[in_i]"));
        assert_eq!(fitness(&field, &K).choice, Today::Plant);
    }

    #[test]
    fn without_a_look_at_the_soil_the_answer_is_to_look() {
        let today = fitness(&Conditions::of(Crop::Corn), &K);
        assert_eq!(today.choice, Today::Wait);
        assert!(says(&today.because, "press soil"));
        assert!(today.assumed.len() >= 5);
    }
}

mod how_deep {
    use super::*;

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
        assert!((start(&field) - 1.5).abs() < 1e-9, "cool and wet");
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
}

mod attachments {
    use super::*;

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
}

mod how_much_seed {
    use super::*;

    fn per_acre(x: domain::quantity::ArealNumberDensity) -> f64 {
        unit("1/[acr_us]").unwrap().read(x)
    }

    #[test]
    fn a_rate_that_was_decided_on_is_kept() {
        let goal = SeedingGoal::Rate { seeds: q(34_000.0, "1/[acr_us]") };
        let advice = seeding(goal, Crop::Corn, q(30.0, "[in_i]"), &K).choice;
        assert!((per_acre(advice.rate) - 34_000.0).abs() < 1e-6);
        assert!((inches(advice.spacing) - 6.150).abs() < 0.001, "spacing table: 6.150 in");
        assert!((advice.seeds_per_foot - 1.951).abs() < 0.001, "spacing table: 1.951 per ft");
        assert!((advice.seeds_in_thousandth - 34.0).abs() < 1e-9);
    }

    #[test]
    fn soybean_follows_the_published_sum() {
        let goal = |survival| SeedingGoal::Stand {
            plants: Some(q(100_000.0, "1/[acr_us]")),
            germination: Some(q(95.0, "%")),
            survival,
        };
        // 100,000 / (0.95 x 0.85) = 123,839 (University of Nebraska 2016).
        let given = seeding(goal(Some(q(85.0, "%"))), Crop::Soybean, q(15.0, "[in_i]"), &K);
        assert!((per_acre(given.choice.rate) - 123_839.0).abs() < 1.0);
        assert!(given.assumed.is_empty());
        let usual = seeding(goal(None), Crop::Soybean, q(15.0, "[in_i]"), &K);
        assert!((per_acre(usual.choice.rate) - 123_839.0).abs() < 1.0, "85 % is the usual survival");
        assert!(usual.choice.rate_low < usual.choice.rate && usual.choice.rate < usual.choice.rate_high);
        assert_eq!(usual.assumed.len(), 1);
    }

    #[test]
    fn corn_takes_ten_percent_more_seed_than_plants() {
        let goal = SeedingGoal::Stand {
            plants: Some(q(30_000.0, "1/[acr_us]")),
            germination: None,
            survival: None,
        };
        let advice = seeding(goal, Crop::Corn, q(30.0, "[in_i]"), &K);
        assert!((per_acre(advice.choice.rate) - 33_000.0).abs() < 10.0);
        assert_eq!(advice.assumed.len(), 2);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 1_000, ..ProptestConfig::default() })]

    #[test]
    fn a_wait_from_the_ball_is_never_overridden(mut field in fields(), warm in 50.0..110.0_f64) {
        field.ball = Some(BallTest::Deforms);
        field.soil_temperature = Some(q(warm, "[degF]"));
        field.soil_low = Some(q(warm, "[degF]"));
        prop_assert!(fitness(&field, &K).choice >= Today::Wait);
    }

    #[test]
    fn colder_or_wetter_is_never_more_fit(mut field in fields(), now in 30.0..90.0_f64, colder in 0.0..20.0_f64) {
        field.soil_temperature = Some(q(now, "[degF]"));
        let before = fitness(&field, &K).choice;
        field.soil_temperature = Some(q(now - colder, "[degF]"));
        prop_assert!(fitness(&field, &K).choice >= before);
        field.soil_temperature = Some(q(now, "[degF]"));
        field.read_outside_cover = true;
        prop_assert!(fitness(&field, &K).choice >= before);
        field.read_outside_cover = false;
        field.moisture = Some(Moisture::AtCapacity);
        prop_assert!(fitness(&field, &K).choice >= before);
    }

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
        prop_assert!(notch >= low - 1e-6 && notch <= high + 1e-6, "{notch} outside {low} to {high}");
    }

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
    fn every_answer_is_explained(field in fields()) {
        let today = fitness(&field, &K);
        prop_assert!(explained(&today));
        let mat = mat_fraction(&field, &K);
        prop_assert!(mat.low <= mat.likely && mat.likely <= mat.high && mat.high <= 1.0);
        prop_assert!(!mat.steps.is_empty());
    }
}
