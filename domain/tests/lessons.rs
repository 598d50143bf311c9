//! What digs do to a recommendation: nothing without digs, more the more they agree, and never
//! beyond what is possible.

mod cases;

use cases::{inputs, worked_case};
use domain::dig::{PrintDepth, WheelFeel};
use domain::learning::{
    DigEvent, DugBalance, Learned, Lessons, Place, Prior, Reading, RowSeen, SoilClass, WheelEdges,
};
use domain::provenance::Coefficients;
use domain::quantity::Measured;
use domain::settings::{Inputs, Recommendation, recommend};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn place(inputs: &Inputs) -> Place {
    Place { class: SoilClass::of(&inputs.field), planter: 1, field: 1, season: 2027 }
}

/// Four rows that feel alike, under a push that just holds the likely reaction.
fn event(dig: u128, place: Place, feel: WheelFeel) -> DigEvent {
    let print = match feel {
        WheelFeel::SpinFree => PrintDepth::None,
        WheelFeel::TurnWithEffort => PrintDepth::Light,
        WheelFeel::Locked => PrintDepth::Deep,
    };
    let row = RowSeen { wheels: Some(feel), print: Some(print), ..RowSeen::default() };
    let edges = WheelEdges { free: 120.0, locked: 890.0 };
    let balance =
        DugBalance { pushes: 1_500.0, metal: 1_000.0, steepness: 1.0, stop: 0.0508, edges };
    DigEvent { dig, place, balance, rows: vec![row; 4] }
}

fn learned(digs: &[DigEvent]) -> Learned {
    Learned::from_events(Prior::of(&K), Reading::of(&K), 2027, digs)
}

fn with(inputs: &Inputs, lessons: Lessons) -> Recommendation {
    recommend(&Inputs { lessons: Some(lessons), ..inputs.clone() }, &K)
}

fn after(inputs: &Inputs, count: u128, feel: WheelFeel) -> Recommendation {
    let here = place(inputs);
    let digs: Vec<DigEvent> = (1..=count).map(|dig| event(dig, here, feel)).collect();
    with(inputs, learned(&digs).lessons(&here))
}

#[test]
fn without_digs_nothing_changes() {
    let case = worked_case();
    let plain = recommend(&case, &K);
    assert_eq!(with(&case, learned(&[]).lessons(&place(&case))), plain);
    assert!(plain.learned.is_none());
}

#[test]
fn free_wheels_raise_the_need_and_locked_wheels_lower_it() {
    let case = worked_case();
    let need = |r: &Recommendation| r.down_force.need.si();
    let plain = need(&recommend(&case, &K));
    let free: Vec<f64> = (1..5).map(|n| need(&after(&case, n, WheelFeel::SpinFree))).collect();
    let locked: Vec<f64> = (1..5).map(|n| need(&after(&case, n, WheelFeel::Locked))).collect();
    assert!(plain < free[0] && free.windows(2).all(|pair| pair[0] < pair[1]), "{plain} {free:?}");
    assert!(plain > locked[0] && locked.windows(2).all(|p| p[0] > p[1]), "{plain} {locked:?}");
}

#[test]
fn digs_narrow_what_may_be_needed_and_better_the_chance() {
    let case = worked_case();
    let width = |r: &Recommendation| (r.down_force.need_high - r.down_force.need_low).si();
    let plain = recommend(&case, &K);
    let taught = after(&case, 6, WheelFeel::TurnWithEffort);
    assert!(width(&taught) < 0.75 * width(&plain), "{} of {}", width(&taught), width(&plain));
    assert!(taught.down_force.chance_in_window > plain.down_force.chance_in_window + 0.1);
}

#[test]
fn the_sheet_says_what_was_learned_from_how_many_digs_and_what_it_changed() {
    let case = worked_case();
    let plain = recommend(&case, &K);
    let taught = after(&case, 3, WheelFeel::SpinFree);
    let shown = taught.learned.clone().unwrap();
    assert_eq!((shown.digs.season, shown.digs.planter, shown.digs.practice), (3, 3, 3));
    assert_eq!(shown.set.force, taught.down_force.per_row);
    assert_eq!(shown.before.force, plain.down_force.per_row);
    assert!((shown.set.chance - taught.down_force.chance_in_window).abs() < 1e-12);
    let start = "from 3 digs on this planter in medium soil under living cover, 3 of them here this season: soil asks ";
    assert!(shown.words.starts_with(start), "{}", shown.words);
    assert!(shown.words.contains(" instead of "), "{}", shown.words);
    let phi = taught.trace.find("resistance by digs, over what was expected without them").unwrap();
    let opener = |r: &Recommendation| r.trace.find("opener").unwrap().value;
    assert!((opener(&taught) / opener(&plain) / phi.value - 1.0).abs() < 1e-9);
}

#[test]
fn digs_of_a_neighbour_say_less_than_own_ones() {
    let case = worked_case();
    let here = place(&case);
    let elsewhere = |planter, field| {
        let there = Place { planter, field, ..here };
        let digs: Vec<DigEvent> =
            (1..=4).map(|dig| event(dig, there, WheelFeel::SpinFree)).collect();
        with(&case, learned(&digs).lessons(&here)).down_force.need.si()
    };
    let (own, same_planter, neighbour) = (elsewhere(1, 1), elsewhere(1, 2), elsewhere(2, 3));
    let plain = recommend(&case, &K).down_force.need.si();
    assert!(plain < neighbour && neighbour < same_planter && same_planter < own);
}

#[test]
fn a_decided_force_stays_and_its_chance_follows_the_digs() {
    let mut case = worked_case();
    let plain = recommend(&case, &K).down_force;
    case.goals.down_force = Some(plain.per_row);
    let taught = after(&case, 4, WheelFeel::SpinFree);
    assert_eq!(taught.down_force.per_row, plain.per_row);
    assert!(taught.down_force.chance_in_window < plain.chance_in_window - 0.1);
    assert!(taught.learned.unwrap().words.contains("is the same as without digs"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn lessons_never_break_a_sheet(
        case in inputs(),
        feels in prop::collection::vec(0..3_usize, 1..6),
    ) {
        let all = [WheelFeel::SpinFree, WheelFeel::TurnWithEffort, WheelFeel::Locked];
        let here = place(&case);
        let digs: Vec<DigEvent> =
            (1..).zip(&feels).map(|(dig, feel)| event(dig, here, all[*feel])).collect();
        let taught = with(&case, learned(&digs).lessons(&here));
        let force = &taught.down_force;
        prop_assert!((0.0..=1.0 + 1e-9).contains(&force.chance_in_window));
        prop_assert!(force.need_low <= force.need_high);
        prop_assert!(force.forces.iter().all(|f| f.low <= f.likely && f.likely <= f.high));
        let shown = taught.learned.unwrap();
        prop_assert!(shown.factor.low <= shown.factor.likely && shown.factor.likely <= shown.factor.high);
        let text = serde_json::to_string(&Inputs { lessons: Some(learned(&digs).lessons(&here)), ..case }).unwrap();
        let read: Inputs = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(recommend(&read, &K).down_force.chance_in_window.to_bits(), force.chance_in_window.to_bits());
    }
}
