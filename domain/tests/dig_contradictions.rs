//! A dig whose readings contradict each other: the safer one counts, and it is said.

mod cases;
mod digs;

use digs::{Setup, good};
use domain::dig::{Cause, Change, PrintDepth, WheelFeel};
use domain::quantity::Measured;

/// Free wheels and shallow seed: too little force by every sign but the print.
fn free_and_shallow(print: PrintDepth) -> Setup {
    good().deeper(-0.5).rows(move |r| {
        r.gauge_wheels = Some(WheelFeel::SpinFree);
        r.print = Some(print);
    })
}

#[test]
fn free_wheels_beside_a_deep_print_never_ask_for_more_force() {
    let plain = free_and_shallow(PrintDepth::None).judged();
    assert!(plain.findings.iter().any(|f| f.cause == Cause::TooLittleForce));
    let judged = free_and_shallow(PrintDepth::Deep).judged();
    assert!(judged.findings.iter().all(|f| f.cause != Cause::TooLittleForce));
    let change = &judged.proposal.change;
    assert!(!matches!(change, Change::DownForce { by, .. } if by.si() > 0.0), "{change:?}");
    let said = judged.ignored.iter().find(|it| it.what.contains("beside a deep print")).unwrap();
    assert_eq!(said.rows, [1, 2, 4, 5, 7]);
    assert!(said.why.contains("contradict"));
    assert!(plain.ignored.iter().all(|it| !it.what.contains("beside a deep print")));
}

#[test]
fn a_row_that_contradicts_itself_leaves_the_others_alone() {
    let judged = free_and_shallow(PrintDepth::None).row(2, |r| r.print = Some(PrintDepth::Deep));
    let judged = judged.judged();
    assert!(judged.findings.iter().any(|f| f.cause == Cause::TooLittleForce));
    let said = judged.ignored.iter().find(|it| it.what.contains("beside a deep print")).unwrap();
    assert_eq!(said.rows, [2]);
}
