//! What single readings of a dig say.

use domain::dig::{PrintDepth, WheelFeel};
use domain::learning::{Posterior, RowSeen};

use crate::digs::{alike, at_depth, event, here, row};
use crate::laws::learned;

const PUSHES: f64 = 1_800.0;

fn by(pushes: f64, rows: Vec<RowSeen>) -> Posterior {
    learned(&[event(1, here(), pushes, rows)]).posterior(&here())
}

fn logged(load: f64) -> Vec<RowSeen> {
    vec![RowSeen { logged: Some(load), ..RowSeen::default() }; 4]
}

#[test]
fn a_wheel_and_a_print_that_differ_speak_for_a_load_at_the_edge_between_them() {
    let both = |wheels, print| by(PUSHES, vec![row(wheels, print); 4]);
    let apart = both(WheelFeel::TurnWithEffort, PrintDepth::Deep).range();
    let locked = both(WheelFeel::Locked, PrintDepth::Deep).range();
    let effort = both(WheelFeel::TurnWithEffort, PrintDepth::Light).range();
    assert!(locked.likely < apart.likely && apart.likely < effort.likely, "{apart:?}");
    // The edge is 890 N: the factor at which that much is left of 1,800 N over 1,000 N.
    assert!((apart.likely - 0.91).abs() < 0.09, "{apart:?}");
    // Either side of the edge, and not anywhere between the two edges.
    assert!(apart.high - apart.low < effort.high - effort.low, "{apart:?} {effort:?}");
}

#[test]
fn a_log_tells_the_load_and_one_of_nothing_only_that_the_unit_rides_out() {
    let measured = by(PUSHES, logged(600.0));
    assert!((measured.range().likely / 1.2 - 1.0).abs() < 0.05, "{:?}", measured.range());
    // With 1,200 N that push, a unit rides out from a factor of 1.2 on: how far, nobody knows.
    let nothing = by(1_200.0, logged(0.0));
    let before = learned(&[]).before_digs();
    assert!(nothing.below(1.1) < 0.05, "{:?}", nothing.range());
    assert!(nothing.range().high > 0.95 * before.range().high, "{:?}", nothing.range());
    assert!(nothing.sd() > 2.0 * measured.sd());
}

#[test]
fn seeds_of_many_rows_say_more_than_as_many_of_few_rows() {
    let shallow = |rows: usize, each: usize| {
        let mut one = at_depth(WheelFeel::SpinFree, 1.5)[0].clone();
        one.wheels = None;
        one.print = None;
        one.depths = one.depths.into_iter().cycle().take(each).collect();
        by(1_200.0, vec![one; rows]).sd()
    };
    let (four_rows, one_row) = (shallow(4, 10), shallow(1, 40));
    assert!(four_rows < one_row, "{four_rows} against {one_row}");
    // Ever more seeds of one row say hardly more: they share its soil.
    let (some, many) = (shallow(1, 10), one_row);
    assert!(many > 0.8 * some, "{many} against {some}");
}

#[test]
fn a_row_without_any_reading_says_nothing() {
    let mut rows = alike(WheelFeel::TurnWithEffort);
    let before = by(PUSHES, rows.clone());
    rows.push(RowSeen::default());
    let after = by(PUSHES, rows);
    assert!((before.range().likely - after.range().likely).abs() < 1e-9);
    assert!((before.sd() - after.sd()).abs() < 1e-9);
}
