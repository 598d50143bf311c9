//! Ends that lift: which readings of the outer rows count, and which do not.

use domain::dig::{Cause, Finding, LoggedLoad, PrintDepth, Strength, WheelFeel};

use super::cases::q;
use super::digs::{Setup, good, good_row, move_row};
use super::{free, free_ends, pressed};

fn lifting(setup: &Setup) -> Option<Finding> {
    setup.judged().findings.into_iter().find(|f| f.cause == Cause::FrameLifts)
}

fn both_ends(setup: Setup) -> Setup {
    setup.with(|s| s.rows.push(good_row(8))).rows(|r| r.outer = r.row == 1 || r.row == 8)
}

fn ends(setup: Setup, change: impl Fn(&mut domain::dig::RowReading)) -> Setup {
    setup.rows(|r| {
        if r.outer {
            change(r);
        }
    })
}

#[test]
fn wheels_and_print_together_show_it_without_a_difference_in_depth() {
    let finding = lifting(&free_ends(good())).unwrap();
    assert_eq!(finding.strength, Strength::Likely);
    assert_eq!(finding.evidence_for.len(), 2);
    assert_eq!(finding.evidence_against, ["seed lies as deep on the outer rows as on the others"]);
    assert!(finding.rows.is_empty(), "the frame is a matter of the planter");
}

#[test]
fn one_sign_that_is_felt_or_seen_is_not_enough() {
    let base = both_ends(good());
    let wheels = ends(base.clone(), |r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    assert_eq!(lifting(&wheels), None);
    let print = ends(base, |r| r.print = Some(PrintDepth::None));
    assert_eq!(lifting(&print), None);
}

#[test]
fn a_depth_that_surely_differs_is_enough_where_nobody_felt_the_wheels() {
    let unfelt = both_ends(good()).rows(|r| {
        r.gauge_wheels = None;
        r.print = None;
    });
    assert!(lifting(&ends(unfelt, |r| move_row(r, -0.5))).is_some());
}

#[test]
fn outer_rows_that_carry_load_reach_their_stop() {
    let stopped = ends(both_ends(good()), |r| move_row(r, -0.5));
    assert_eq!(lifting(&stopped), None);
}

#[test]
fn other_rows_that_spin_free_as_well_speak_against_it() {
    let some = free_ends(good()).row(5, |r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    assert_eq!(lifting(&some), None, "two readings against two");
    let shallow_too = some.rows(|r| {
        if r.outer {
            move_row(r, -0.5);
        }
    });
    let finding = lifting(&shallow_too).unwrap();
    assert_eq!(finding.evidence_against, ["the gauge wheels spin free on row 5 as well"]);
    assert_eq!(lifting(&free(both_ends(good().deeper(-0.5)))), None, "the whole planter is light");
}

#[test]
fn ends_that_turn_with_effort_beside_locked_wheels_lift() {
    let setup = ends(both_ends(pressed(good())), |r| {
        r.gauge_wheels = Some(WheelFeel::TurnWithEffort);
        r.print = Some(PrintDepth::Light);
    });
    assert_eq!(lifting(&setup).unwrap().strength, Strength::Strong);
    let one_turns = setup.row(5, |r| r.gauge_wheels = Some(WheelFeel::TurnWithEffort));
    assert_eq!(lifting(&one_turns), None, "not all of the others are locked");
}

#[test]
fn a_logged_load_says_more_than_a_turn_by_hand() {
    let log = |r: &mut domain::dig::RowReading, pounds: f64| {
        r.logged_load = Some(LoggedLoad { mean: q(pounds, "[lbf_av]"), sd: None, contact: None });
    };
    let light = both_ends(good()).rows(|r| log(r, if r.outer { 60.0 } else { 180.0 }));
    let finding = lifting(&light).unwrap();
    assert!(finding.evidence_for[0].contains("60 lbf"), "{finding:?}");
    let carried = free_ends(good()).rows(|r| log(r, 180.0));
    assert_eq!(lifting(&carried), None, "the log wins over wheels that were called free");
}

#[test]
fn one_inner_row_is_too_few_to_compare_with() {
    let two = free_ends(good()).with(|s| s.rows.retain(|r| r.row == 1 || r.row == 5));
    assert_eq!(lifting(&two), None);
}
