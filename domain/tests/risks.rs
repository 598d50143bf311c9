//! Hairpins, wrapping and smeared walls: each cause alone, with what it counts, and laws.

mod cases;

use cases::{MOISTURES, fields, q, worked_field};
use domain::conditions::{
    BallTest, Conditions, CoverSpecies, CoverStage, CoverState, HairpinRisk, Moisture, ResidueFeel,
    ResidueSpread, RiskPoint, RollDirection, StrengthClass, TextureClass, WrapRisk, hairpins,
    wrapping,
};
use domain::planter::ClosingPair;
use domain::provenance::{Coefficient, Coefficients, Reason};
use domain::quantity::Force;
use domain::settings::{WallRisk, wall_risk};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn says(reasons: &[Reason], words: &str) -> bool {
    reasons.iter().any(|r| r.text.contains(words))
}

/// The worked field with something else in it.
fn field(change: impl Fn(&mut Conditions)) -> Conditions {
    let mut field = worked_field();
    change(&mut field);
    field
}

/// Living, standing rye over cornstalks, with another state, stage and direction of rolling.
fn cover(
    alive: CoverState,
    stage: Option<CoverStage>,
    rolled: Option<RollDirection>,
) -> impl Fn(&mut Conditions) {
    move |c| {
        if let Some(cover) = &mut c.cover {
            (cover.state, cover.stage, cover.rolled) = (Some(alive), stage, rolled);
            cover.height = Some(q(12.0, "[in_i]"));
        }
    }
}

/// What the second list has more than the first.
fn added(before: &[RiskPoint], after: &[RiskPoint]) -> Vec<RiskPoint> {
    after.iter().filter(|point| !before.contains(point)).cloned().collect()
}

/// One point, worth what the coefficient says, with its words and a source.
#[track_caller]
fn counts(points: &[RiskPoint], k: &Coefficient, words: &str) {
    assert_eq!(points.len(), 1, "{}: {points:?}", k.name);
    for point in points {
        assert!((point.worth - k.value).abs() < 1e-12, "{}: {}", k.name, point.worth);
        assert!(point.because.text.contains(words), "{}: {}", k.name, point.because.text);
        assert!(!point.because.source.is_empty());
    }
}

#[test]
fn each_state_of_the_cover_counts_for_hairpins() {
    use CoverState::{DeadCrisp, DeadDamp, Dying, GreenRolled, GreenStanding};
    let points = |state| hairpins(&field(cover(state, None, None)), false, &K).points;
    assert!(points(GreenRolled).is_empty());
    for (state, k, words) in [
        (Dying, &K.hairpin_dying, "dying"),
        (DeadDamp, &K.hairpin_damp, "rope"),
        (DeadCrisp, &K.hairpin_crisp, "cuts well"),
        (GreenStanding, &K.hairpin_standing, "little straw"),
    ] {
        counts(&added(&[], &points(state)), k, words);
    }
}

#[test]
fn each_other_cause_counts_for_hairpins() {
    let plain = field(cover(CoverState::GreenRolled, None, None));
    let of = |c: &Conditions, ahead| hairpins(c, ahead, &K).points;
    let with = |change: &dyn Fn(&mut Conditions)| {
        let mut other = plain.clone();
        change(&mut other);
        added(&of(&plain, true), &of(&other, true))
    };
    let rolled = |direction| with(&cover(CoverState::GreenRolled, None, Some(direction)));
    counts(&rolled(RollDirection::Across), &K.hairpin_across, "parallel");
    let along = field(cover(CoverState::GreenRolled, None, Some(RollDirection::Parallel)));
    assert!(of(&along, true).is_empty());
    let headed = with(&cover(CoverState::GreenRolled, Some(CoverStage::Heading), None));
    counts(&headed, &K.hairpin_stiff, "stiff");
    let heavy = with(&|c| {
        if let Some(cover) = &mut c.cover {
            cover.height = Some(q(24.0, "[in_i]"));
        }
    });
    counts(&heavy, &K.hairpin_heavy_mat, "does not dry");
    for (feel, k, words) in [
        (ResidueFeel::Wet, &K.hairpin_wet, "wet residue"),
        (ResidueFeel::Pliable, &K.hairpin_pliable, "bends"),
    ] {
        counts(&with(&|c| c.residue_feel = Some(feel)), k, words);
    }
    for (spread, k, words) in [
        (ResidueSpread::Piles, &K.hairpin_piles, "piles"),
        (ResidueSpread::Banded, &K.hairpin_bands, "bands"),
    ] {
        counts(&with(&|c| c.residue_spread = Some(spread)), k, words);
    }
    // A cone below 100 psi is soft; the coulter on it counts once more.
    let soft = field(|c| {
        cover(CoverState::GreenRolled, None, None)(c);
        c.penetration = Some(q(99.0, "[psi]"));
    });
    counts(&added(&of(&plain, false), &of(&soft, false)), &K.hairpin_soft, "gives way");
    counts(&added(&of(&soft, false), &of(&soft, true)), &K.hairpin_coulter, "coulter");
    let firm = field(|c| {
        cover(CoverState::GreenRolled, None, None)(c);
        (c.penetration, c.moisture) = (Some(q(150.0, "[psi]")), Some(Moisture::Wet));
    });
    assert!(of(&firm, true).is_empty(), "a cone reading goes before the feel");
    let knife = field(|c| {
        cover(CoverState::GreenRolled, None, None)(c);
        c.strength_class = Some(StrengthClass::Loose);
    });
    counts(&added(&of(&plain, false), &of(&knife, false)), &K.hairpin_soft, "gives way");
}

#[test]
fn the_hour_counts_only_where_nobody_felt_the_residue() {
    let at = |hour, feel| {
        let early = field(|c| {
            cover(CoverState::GreenRolled, None, None)(c);
            (c.start_hour, c.residue_feel) = (Some(hour), feel);
        });
        hairpins(&early, false, &K)
    };
    for (hour, dewy) in [(6, true), (9, true), (10, false), (19, false), (20, true), (23, true)] {
        assert_eq!(at(hour, None).points.len(), usize::from(dewy), "{hour} o'clock");
    }
    counts(&added(&[], &at(7, None).points), &K.hairpin_dew, "dew");
    assert!(at(7, Some(ResidueFeel::Crisp)).points.is_empty());
    let damp = field(|c| {
        cover(CoverState::DeadDamp, None, None)(c);
        c.start_hour = Some(7);
    });
    assert!(says(&hairpins(&damp, false, &K).lower, "start after about 10 o'clock"));
    let noon = field(|c| {
        cover(CoverState::DeadDamp, None, None)(c);
        c.start_hour = Some(12);
    });
    let noon = hairpins(&noon, false, &K);
    assert!(!says(&noon.lower, "o'clock") && says(&noon.lower, "10 to 14 days"));
    let unsaid = field(cover(CoverState::DeadDamp, None, None));
    assert!(says(&hairpins(&unsaid, false, &K).lower, "late morning"));
}

#[test]
fn points_make_classes_and_end_at_three() {
    let of = |change: &dyn Fn(&mut Conditions)| hairpins(&field(change), true, &K);
    let pliable = of(&|c| c.residue_feel = Some(ResidueFeel::Pliable));
    assert_eq!((pliable.risk, pliable.lower.len()), (HairpinRisk::Low, 0));
    assert_eq!(of(&|c| c.residue_feel = Some(ResidueFeel::Wet)).risk, HairpinRisk::Some);
    let worst = of(&|c| {
        cover(CoverState::Dying, Some(CoverStage::Milk), Some(RollDirection::Across))(c);
        c.residue_feel = Some(ResidueFeel::Wet);
        c.residue_spread = Some(ResidueSpread::Piles);
        c.penetration = Some(q(50.0, "[psi]"));
    });
    assert_eq!(worst.risk, HairpinRisk::High);
    assert!((worst.total - 3.0).abs() < 1e-12 && says(&worst.lower, "spread piles"));
    let bare = of(&|c| {
        (c.cover, c.residue_cover) = (None, Some(q(15.0, "%")));
        c.residue_feel = Some(ResidueFeel::Wet);
    });
    assert_eq!(bare.risk, HairpinRisk::Low);
    assert!(says(&bare.causes(), "no residue to tuck"));
}

#[test]
fn each_cause_counts_for_wrapping() {
    use CoverSpecies::{CerealRye, HairyVetch};
    use CoverState::{DeadCrisp, DeadDamp, Dying, GreenStanding};
    let rye = |height: f64, state, species, rolled| {
        wrapping(
            &field(|c| {
                if let Some(cover) = &mut c.cover {
                    cover.height = Some(q(height, "[in_i]"));
                    (cover.state, cover.species, cover.rolled) = (Some(state), species, rolled);
                    cover.ground_cover = Some(q(50.0, "%"));
                }
            }),
            &K,
        )
    };
    let plain = |height, state| rye(height, state, CerealRye, None);
    for (found, k, words) in [
        (plain(12.0, Dying), &K.wrap_dying, "yellowing"),
        (plain(20.0, GreenStanding), &K.wrap_green_tall, "living stems"),
        (plain(20.0, DeadDamp), &K.wrap_damp_long, "damp"),
        (rye(12.0, GreenStanding, HairyVetch, None), &K.wrap_vines, "vining"),
        (
            rye(12.0, CoverState::GreenRolled, CerealRye, Some(RollDirection::Across)),
            &K.wrap_across,
            "rolled across",
        ),
    ] {
        counts(&added(&[], &found.points), k, words);
        assert!((found.total - k.value).abs() < 1e-12);
    }
    let short = plain(5.9, Dying);
    assert_eq!((short.risk, short.total), (WrapRisk::Low, 0.0));
    assert!(says(&short.causes(), "below 6 in"));
    let crisp = rye(20.0, DeadCrisp, HairyVetch, Some(RollDirection::Across));
    assert!(crisp.points.is_empty(), "crisp stems break");
    // Two feet of rye at full cover is heavy and tall: 2 points, high.
    let heavy = wrapping(&worked_field(), &K);
    assert!(says(&heavy.causes(), "heavy cover"));
    assert_eq!(heavy.risk, WrapRisk::High);
    assert_eq!(plain(20.0, GreenStanding).risk, WrapRisk::Some);
    assert_eq!(wrapping(&field(|c| c.cover = None), &K).risk, WrapRisk::Low);
}

/// Product of the sidewall factors at a load in lbf.
fn wall(change: impl Fn(&mut Conditions), pounds: f64) -> (WallRisk, f64, Vec<Reason>) {
    let load: Force = q(pounds, "[lbf_av]");
    let advice = wall_risk(&field(change), load, ClosingPair::Rubber, &K);
    let shown: f64 = advice.choice.factors.iter().map(|factor| factor.worth).product();
    assert!((shown - advice.choice.product).abs() < 1e-12);
    assert_eq!(advice.choice.factors.len(), 3);
    (advice.choice.risk, advice.choice.product, advice.watch)
}

#[test]
fn texture_moisture_and_force_make_the_wall() {
    use TextureClass::{Clay, Sand, SandyLoam, SiltLoam};
    let soil = |texture, moisture| {
        move |c: &mut Conditions| {
            (c.texture, c.moisture, c.ball) = (Some(texture), Some(moisture), None);
        }
    };
    // 890 N is the lower edge of the heavy class, where the factor of force is 1.
    let heavy = 890.0 / 4.448_221_615_260_5;
    for (texture, factor) in [(Sand, 0.25), (SandyLoam, 0.5), (SiltLoam, 1.0), (Clay, 1.5)] {
        let (_, product, _) = wall(soil(texture, Moisture::Wet), heavy);
        assert!((product - factor).abs() < 1e-9, "{texture:?}");
    }
    for (moisture, factor) in MOISTURES.into_iter().zip([0.0, 0.25, 0.5, 1.0, 1.5]) {
        let (_, product, _) = wall(soil(SiltLoam, moisture), heavy);
        assert!((product - factor).abs() < 1e-9, "{moisture:?}");
    }
    let (risk, product, watch) = wall(soil(SiltLoam, Moisture::Wet), heavy / 2.0);
    assert!((product - 0.5).abs() < 1e-9 && risk == WallRisk::Some);
    assert!(says(&watch, "no more force") && says(&watch, "springs light"));
    assert!(says(&watch, "breaks a standing wall") && !says(&watch, "wait"));
    let (risk, _, watch) = wall(soil(Clay, Moisture::Wet), heavy);
    assert!(risk == WallRisk::High && watch[0].text.contains("wait"));
    let (risk, _, watch) = wall(soil(Sand, Moisture::Wet), heavy);
    assert!(risk == WallRisk::Low && watch.is_empty());
    let spiked = wall_risk(
        &field(soil(Clay, Moisture::Wet)),
        q(200.0, "[lbf_av]"),
        ClosingPair::TwoSpiked,
        &K,
    );
    assert!(!says(&spiked.watch, "breaks a standing wall"));
}

#[test]
fn ball_and_ribbon_count_as_wet_whatever_the_feel() {
    let by = |ball, ribbon: Option<f64>| {
        wall(
            |c| {
                (c.moisture, c.ball) = (Some(Moisture::Moist), ball);
                c.ribbon = ribbon.map(|r| q(r, "[in_i]"));
            },
            200.0,
        )
        .1
    };
    let moist = by(Some(BallTest::Cracks), Some(3.0));
    assert!((by(Some(BallTest::Deforms), None) - 2.0 * moist).abs() < 1e-9);
    assert!((by(None, Some(3.1)) - 2.0 * moist).abs() < 1e-9);
    let unknown = wall_risk(
        &field(|c| (c.texture, c.moisture) = (None, None)),
        q(200.0, "[lbf_av]"),
        ClosingPair::Rubber,
        &K,
    );
    assert_eq!(unknown.assumed.len(), 2);
}

proptest! {
    #![proptest_config(cases::law(2_000))]

    #[test]
    fn wetter_finer_or_heavier_never_spares_the_wall(
        field in fields(), load in 0.0..2000.0_f64, more in 0.0..1000.0_f64,
    ) {
        use TextureClass::{Clay, LoamySand, SandyLoam, SiltLoam};
        let of = |c: &Conditions, n: f64| {
            wall_risk(c, q(n, "N"), ClosingPair::Rubber, &K).choice.product
        };
        prop_assert!(of(&field, load + more) >= of(&field, load));
        let mut last = 0.0;
        for moisture in MOISTURES {
            let c = Conditions { moisture: Some(moisture), ..field.clone() };
            let now = of(&c, load);
            prop_assert!(now >= last - 1e-12);
            last = now;
        }
        last = 0.0;
        for texture in [LoamySand, SandyLoam, SiltLoam, Clay] {
            let c = Conditions { texture: Some(texture), ..field.clone() };
            let now = of(&c, load);
            prop_assert!(now >= last - 1e-12);
            last = now;
        }
    }

    #[test]
    fn a_risk_is_the_sum_of_what_it_shows(field in fields(), ahead: bool) {
        let tucked = hairpins(&field, ahead, &K);
        let sum: f64 = tucked.points.iter().map(|point| point.worth).sum();
        prop_assert!((tucked.total - sum.min(3.0)).abs() < 1e-12);
        prop_assert!(tucked.points.iter().all(|p| !p.because.text.is_empty() && !p.because.source.is_empty()));
        let wound = wrapping(&field, &K);
        let sum: f64 = wound.points.iter().map(|point| point.worth).sum();
        prop_assert!((wound.total - sum).abs() < 1e-12);
        // A coulter never lowers the risk.
        prop_assert!(hairpins(&field, true, &K).total >= hairpins(&field, false, &K).total);
    }
}
