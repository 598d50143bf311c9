//! Closing wheels: what fields ask for, the order of the pairs, and that the order is explained.

mod cases;

use cases::{fields, planters, q, worked_field, worked_planter};
use domain::conditions::{Conditions, CoverState, Moisture, TextureClass};
use domain::planter::{ClosingPair, Planter};
use domain::provenance::{Advice, Coefficients, Mark, Reason};
use domain::settings::{
    AtHand, ClosingAdvice, ClosingSpring, ClosingWheels, Criterion, Pass, closing,
};
use proptest::prelude::*;

use ClosingPair::{CastIron, Finger, Rubber, SpikedAndRubber, TwoSpiked};

const K: Coefficients = Coefficients::STANDARD;
const ALL: [ClosingPair; 5] = [Rubber, CastIron, SpikedAndRubber, TwoSpiked, Finger];

fn says(reasons: &[Reason], words: &str) -> bool {
    reasons.iter().any(|r| r.text.contains(words))
}

fn run(c: &Conditions, fitted: ClosingPair, owned: &[ClosingPair]) -> Advice<ClosingAdvice> {
    at(c, fitted, owned, 2.0, 5.0)
}

fn at(
    c: &Conditions,
    fitted: ClosingPair,
    owned: &[ClosingPair],
    depth: f64,
    speed: f64,
) -> Advice<ClosingAdvice> {
    let pass = Pass { depth: q(depth, "[in_i]"), speed: q(speed, "[mi_i]/h") };
    closing(c, ClosingWheels { fitted, owned, rows: 8 }, pass, &K)
}

/// A soil without cover; the residue is the given share.
fn soil(texture: TextureClass, moisture: Moisture, residue: f64) -> Conditions {
    Conditions {
        texture: Some(texture),
        moisture: Some(moisture),
        cover: None,
        residue_cover: Some(q(residue, "%")),
        ..worked_field()
    }
}

fn order(c: &Conditions) -> Vec<ClosingPair> {
    run(c, Rubber, &ALL).choice.ranking.iter().map(|ranked| ranked.pair).collect()
}

#[test]
fn each_slot_has_its_order() {
    use Moisture::{Dry, Moist, SlightlyMoist, Wet};
    use TextureClass::{Sand, SiltLoam};
    for (texture, moisture, pairs) in [
        (SiltLoam, Wet, [Finger, SpikedAndRubber, TwoSpiked, CastIron, Rubber]),
        (SiltLoam, Moist, [SpikedAndRubber, CastIron, Finger, TwoSpiked, Rubber]),
        (SiltLoam, SlightlyMoist, [SpikedAndRubber, CastIron, Finger, TwoSpiked, Rubber]),
        (Sand, Moist, [CastIron, Rubber, SpikedAndRubber, Finger, TwoSpiked]),
        (SiltLoam, Dry, [CastIron, SpikedAndRubber, Rubber, Finger, TwoSpiked]),
    ] {
        assert_eq!(order(&soil(texture, moisture, 20.0)), pairs, "{texture:?} {moisture:?}");
    }
}

#[test]
fn each_field_asks_for_what_it_needs() {
    use Criterion::{BearsWet, BreaksWall, ClosesThroughMat, Firms, KeepsMoisture, LeavesSeed};
    use TextureClass::{Sand, SiltLoam};
    for (c, asked) in [
        (soil(SiltLoam, Moisture::Wet, 0.0), vec![BreaksWall, BearsWet, LeavesSeed]),
        (soil(SiltLoam, Moisture::Moist, 0.0), vec![BreaksWall, Firms, BearsWet, LeavesSeed]),
        (soil(Sand, Moisture::Moist, 0.0), vec![Firms, BearsWet, LeavesSeed]),
        (soil(SiltLoam, Moisture::Dry, 0.0), vec![BreaksWall, Firms, KeepsMoisture, LeavesSeed]),
        (
            soil(SiltLoam, Moisture::Wet, 60.0),
            vec![BreaksWall, BearsWet, ClosesThroughMat, LeavesSeed],
        ),
    ] {
        let choice = run(&c, Rubber, &[]).choice;
        let found: Vec<Criterion> = choice.asks.iter().map(|ask| ask.criterion).collect();
        assert_eq!(found, asked);
        assert!(choice.asks.iter().all(|ask| ask.weight > 0.0 && !ask.because.text.is_empty()));
    }
    // A mat keeps coarse soil from crumbling in.
    assert_eq!(
        run(&soil(Sand, Moisture::Moist, 60.0), Rubber, &[]).choice.asks[0].criterion,
        BreaksWall
    );
}

#[test]
fn the_ranking_shows_what_is_at_hand_and_what_is_better() {
    let c = soil(TextureClass::SiltLoam, Moisture::Wet, 20.0);
    let choice = run(&c, CastIron, &[SpikedAndRubber, Rubber]).choice;
    let shown: Vec<_> = choice.ranking.iter().map(|r| (r.pair, r.at_hand)).collect();
    let expected = [
        (Finger, AtHand::NotOwned),
        (SpikedAndRubber, AtHand::Owned),
        (CastIron, AtHand::Fitted),
        (Rubber, AtHand::Owned),
    ];
    // Two spiked wheels stand below the best at hand and nobody owns them: they are left out.
    assert_eq!(shown, expected);
    assert!(choice.change && choice.pair == SpikedAndRubber);
    assert_eq!(choice.try_on_two_rows, Some(SpikedAndRubber));
    let top = choice.ranking[0].above_next.clone().expect("a reason");
    // 16.5 against 15 points: 3 x 3 + 3 x 2 + 1.5 x 1 and 3 x 2 + 3 x 2 + 1.5 x 2.
    assert!(top.text.contains("1.5 points above one spiked and one rubber wheel"), "{}", top.text);
    assert!(top.text.contains("bears wet soil (+3.0)"), "{}", top.text);
    assert!(top.text.contains("less for leaves the seed where it lies (-1.5)"), "{}", top.text);
    assert!(choice.ranking.last().expect("a pair").above_next.is_none());
}

#[test]
fn equal_pairs_stand_in_the_order_of_most_situations() {
    // Wet: one spiked and one rubber wheel and two spiked wheels have 15 points each.
    let c = soil(TextureClass::SiltLoam, Moisture::Wet, 20.0);
    let choice = run(&c, SpikedAndRubber, &[TwoSpiked]).choice;
    let first = &choice.ranking[1];
    assert_eq!((first.pair, choice.ranking[2].pair), (SpikedAndRubber, TwoSpiked));
    let why = first.above_next.as_ref().expect("a reason");
    assert!(why.text.contains("level with two spiked wheels"), "{}", why.text);
    assert!(says(&run(&c, SpikedAndRubber, &[TwoSpiked]).watch, "a close call"));
    assert!(!says(&run(&c, SpikedAndRubber, &[Rubber]).watch, "a close call"));
}

#[test]
fn two_rows_are_inner_rows_away_from_tyres() {
    let mut planter: Planter = worked_planter();
    planter.unit.closing = Rubber;
    let pass = Pass { depth: q(2.0, "[in_i]"), speed: q(5.0, "[mi_i]/h") };
    let advice = closing(&worked_field(), &planter, pass, &K);
    assert!(says(&advice.watch, "neither outer ones nor in a tyre track"));
    planter.rows = 2;
    let small = closing(&worked_field(), &planter, pass, &K);
    assert!(says(&small.watch, "one row first") && !says(&small.watch, "outer"));
}

#[test]
fn spring_by_slot_and_pair() {
    use TextureClass::{Sand, SiltLoam};
    let spring = |c: &Conditions, pair| run(c, pair, &[]).choice.spring;
    let moist = soil(SiltLoam, Moisture::Moist, 20.0);
    assert_eq!(spring(&soil(SiltLoam, Moisture::Wet, 20.0), Rubber), ClosingSpring::None);
    assert_eq!(spring(&moist, SpikedAndRubber), ClosingSpring::Light);
    assert_eq!(spring(&moist, CastIron), ClosingSpring::None);
    assert_eq!(spring(&soil(Sand, Moisture::Moist, 20.0), Rubber), ClosingSpring::Light);
    let dry = soil(SiltLoam, Moisture::Dry, 20.0);
    assert_eq!(spring(&dry, SpikedAndRubber), ClosingSpring::Medium);
    assert_eq!(spring(&dry, CastIron), ClosingSpring::Light);
}

#[test]
fn the_chain_stays_off_where_stems_gather() {
    let mut c = worked_field();
    let chain = |c: &Conditions| run(c, TwoSpiked, &[]);
    for (state, hangs) in [
        (CoverState::GreenStanding, false),
        (CoverState::GreenRolled, false),
        (CoverState::Dying, false),
        (CoverState::DeadDamp, true),
        (CoverState::DeadCrisp, true),
    ] {
        if let Some(cover) = &mut c.cover {
            cover.state = Some(state);
        }
        let advice = chain(&c);
        assert_eq!(advice.choice.drag_chain, hangs, "{state:?}");
        assert_eq!(says(&advice.watch, "drag chain off"), !hangs);
    }
    assert!(!run(&c, SpikedAndRubber, &[]).choice.drag_chain);
}

#[test]
fn depth_and_speed_are_said() {
    let moist = soil(TextureClass::SiltLoam, Moisture::Moist, 20.0);
    let light = soil(TextureClass::Sand, Moisture::Moist, 20.0);
    let watch = |c: &Conditions, depth, speed| at(c, TwoSpiked, &[], depth, speed).watch;
    assert!(says(&watch(&moist, 1.25, 5.0), "opens up again"));
    assert!(says(&watch(&moist, 1.25, 5.0), "reach a shallow seed"));
    assert!(!says(&watch(&moist, 1.75, 5.0), "opens up again"));
    assert!(!says(&watch(&light, 1.25, 5.0), "opens up again"));
    assert!(says(&watch(&moist, 2.0, 6.0), "fell with speed"));
    assert!(!says(&watch(&moist, 2.0, 5.0), "fell with speed"));
}

#[test]
fn each_pair_has_its_warnings() {
    let moist = soil(TextureClass::SiltLoam, Moisture::Moist, 60.0);
    let wet = soil(TextureClass::SiltLoam, Moisture::Wet, 60.0);
    let dry = soil(TextureClass::SiltLoam, Moisture::Dry, 60.0);
    for (c, pair, words) in [
        (&moist, Rubber, "plain rubber may leave"),
        (&wet, Rubber, "builds up"),
        (&wet, Finger, "one wet spot"),
        (&moist, Finger, "lifts an inch"),
        (&dry, TwoSpiked, "dry the slot out"),
        (&moist, SpikedAndRubber, "set the gap"),
        (&moist, SpikedAndRubber, "pull seed up"),
        (&moist, TwoSpiked, "worn spikes"),
        (&worked_field(), SpikedAndRubber, "stems wound"),
    ] {
        assert!(says(&run(c, pair, &[]).watch, words), "{pair:?}: {words}");
        let other = if pair == CastIron { Finger } else { CastIron };
        let elsewhere = &run(c, other, &[]).watch;
        assert!(words.contains("wet spot") || words.contains("inch") || !says(elsewhere, words));
    }
    assert!(says(&run(&moist, Finger, &[]).because, "2 % more emergence"));
    assert!(!says(&run(&moist, Rubber, &[]).because, "2 % more emergence"));
}

proptest! {
    #![proptest_config(cases::law(2_000))]

    #[test]
    fn the_ranking_adds_up_and_is_explained(
        field in fields(), planter in planters(), depth in 1.0..3.0_f64, speed in 2.0..9.0_f64,
    ) {
        let pass = Pass { depth: q(depth, "[in_i]"), speed: q(speed, "[mi_i]/h") };
        let choice = closing(&field, &planter, pass, &K).choice;
        for pair in choice.ranking.windows(2) {
            prop_assert!(pair[0].points >= pair[1].points - 1e-9);
            prop_assert!(pair[0].above_next.as_ref().is_some_and(|r| r.text.contains("above") || r.text.contains("level")));
        }
        for ranked in &choice.ranking {
            prop_assert_eq!(ranked.grades.len(), 6);
            for grade in &ranked.grades {
                let weight: f64 = choice.asks.iter().filter(|a| a.criterion == grade.criterion).map(|a| a.weight).sum();
                prop_assert!((grade.counts - weight * grade.grade).abs() < 1e-9);
                prop_assert!(grade.mark == Mark::Proposal && !grade.source.is_empty());
            }
            let sum: f64 = ranked.grades.iter().map(|g| g.counts).sum();
            prop_assert!((ranked.points - sum).abs() < 1e-9);
        }
        // What is at hand is in the list once, and the first of it is what is run.
        let at_hand: Vec<_> = choice.ranking.iter().filter(|r| r.at_hand != AtHand::NotOwned).collect();
        prop_assert_eq!(at_hand[0].pair, choice.pair);
        let mut own = planter.closing_owned.clone();
        own.push(planter.unit.closing);
        for pair in ALL {
            let times = at_hand.iter().filter(|r| r.pair == pair).count();
            prop_assert_eq!(times, usize::from(own.contains(&pair)));
        }
        // Nobody is told to buy what is worse than what hangs in the shed.
        let best = choice.ranking.iter().position(|r| r.at_hand != AtHand::NotOwned).expect("fitted");
        prop_assert!(choice.ranking.iter().skip(best).all(|r| r.at_hand != AtHand::NotOwned));
    }
}
