//! Laws of contradictory readings: the safer one counts, whatever the others say.

mod cases;

use cases::{fields, planting, q};
use chrono::Days;
use domain::conditions::{
    BallTest, Conditions, CoverClip, CoverStage, SoilMakeup, StrengthClass, Today, TossTest,
    fitness,
};
use domain::provenance::Coefficients;
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

/// Fields with every member that can contradict another.
fn reports() -> impl Strategy<Value = Conditions> {
    let stages = prop::sample::select(vec![
        CoverStage::Tillering,
        CoverStage::Jointing,
        CoverStage::Boot,
        CoverStage::Heading,
        CoverStage::Flowering,
        CoverStage::Milk,
    ]);
    let classes = prop::sample::select(vec![
        StrengthClass::Loose,
        StrengthClass::Good,
        StrengthClass::Firm,
        StrengthClass::Hard,
    ]);
    let more = (
        prop::option::of(stages),
        prop::option::of((0.01..4.0_f64, 1.0..20.0_f64)),
        prop::option::of(0_u64..75),
        prop::option::of(classes),
        prop::option::of(1.0..60.0_f64),
        prop::option::of(20.0..120.0_f64),
        any::<bool>(),
        prop::option::of(prop::sample::select(vec![TossTest::BreaksUp, TossTest::LandsWhole])),
    );
    (fields(), more).prop_map(|(mut field, more)| {
        let (stage, clip, ended, class, water, low, outside, toss) = more;
        field.toss = toss;
        if let Some(cover) = &mut field.cover {
            cover.stage = stage;
            cover.clip =
                clip.map(|(m, a)| CoverClip { dry: q(m, "[lb_av]"), area: q(a, "[sft_i]") });
        }
        field.planting_date = Some(planting());
        // From 60 days before to 14 after.
        let first = planting() - Days::new(60);
        field.cover_ended = ended.map(|days| first + Days::new(days));
        field.strength_class = class;
        field.soil = SoilMakeup { water: water.map(|w| q(w, "%")), ..SoilMakeup::UNKNOWN };
        field.soil_low = low.map(|t| q(t, "[degF]"));
        field.read_outside_cover = outside;
        field
    })
}

/// What each sign of wetness says when the others are left out.
fn alone(c: &Conditions) -> Vec<Today> {
    let bare = Conditions { texture: c.texture, ..Conditions::of(c.crop) };
    let signs = [
        c.ball.map(|ball| Conditions { ball: Some(ball), ..bare.clone() }),
        c.ribbon.map(|ribbon| Conditions { ribbon: Some(ribbon), ..bare.clone() }),
        c.toss.map(|toss| Conditions { toss: Some(toss), ..bare.clone() }),
        c.moisture.map(|feel| Conditions { moisture: Some(feel), ..bare.clone() }),
        c.soil_temperature.map(|t| Conditions {
            soil_temperature: Some(t),
            ball: Some(BallTest::Crumbles),
            ..bare.clone()
        }),
    ];
    signs.into_iter().flatten().map(|field| fitness(&field, &K).choice).collect()
}

proptest! {
    #![proptest_config(cases::law(10_000))]

    #[test]
    fn settling_again_changes_nothing(report in reports()) {
        let (settled, found) = report.settled(&K);
        let (again, left) = settled.settled(&K);
        prop_assert_eq!(&again, &settled);
        // What is left is only named, and was named before.
        prop_assert!(left.iter().all(|c| found.iter().any(|f| f.clash == c.clash)));
    }

    #[test]
    fn a_report_without_contradiction_is_left_as_it_is(report in reports()) {
        let (settled, found) = report.settled(&K);
        if found.is_empty() {
            prop_assert_eq!(settled, report);
        }
    }

    #[test]
    fn the_advice_is_never_bolder_than_the_most_careful_sign(report in reports()) {
        let (settled, _) = report.settled(&K);
        let today = fitness(&settled, &K).choice;
        for careful in alone(&report) {
            prop_assert!(today >= careful, "{today:?} although one sign says {careful:?}");
        }
        prop_assert!(today >= fitness(&report, &K).choice);
    }

    #[test]
    fn a_wait_from_the_ball_is_never_overridden(report in reports(), warmth in 50.0..110.0_f64) {
        let putty = Conditions {
            ball: Some(BallTest::Deforms),
            soil_temperature: Some(q(warmth, "[degF]")),
            soil_low: Some(q(warmth, "[degF]")),
            rain: Some(q(0.0, "[in_i]")),
            ..report
        };
        let (settled, _) = putty.settled(&K);
        prop_assert!(fitness(&settled, &K).choice >= Today::Wait);
    }

    #[test]
    fn each_contradiction_names_members_and_says_what_is_used(report in reports()) {
        let (_, found) = report.settled(&K);
        for (place, it) in found.iter().enumerate() {
            prop_assert!(it.members.len() >= 2 && it.members.iter().all(|m| m.starts_with('/')));
            prop_assert!(!it.what.is_empty() && !it.used.is_empty());
            prop_assert!(found.iter().skip(place + 1).all(|other| other.clash != it.clash));
        }
    }
}
