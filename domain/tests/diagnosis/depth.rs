//! Depth: the lever, and rows that do not speak for the planter.

use domain::dig::{Cause, Change, Side};

use super::cases::q;
use super::digs::{good, good_row, in_inches, inches, move_row};
use super::inspects;

#[test]
fn the_lever_moves_by_the_error_to_a_notch() {
    let judged = good().deeper(0.45).judged();
    let Change::Depth { from, to, lever } = judged.proposal.change else { panic!("no depth") };
    assert!((in_inches(from) - 2.0).abs() < 1e-9);
    assert!((in_inches(to) - 1.5).abs() < 1e-9, "0.45 in is nearest to two steps of 0.25 in");
    assert_eq!(lever.map(|l| l.notch), Some(3));
}

#[test]
fn a_lever_at_its_end_is_looked_at() {
    let setup = good().deeper(0.5).with(|s| {
        s.settings.lever_depth = Some(q(1.0, "[in_i]"));
    });
    let proposal = setup.judged().proposal;
    assert_eq!(proposal.cause, Some(Cause::LeverOff));
    assert!(inspects(&proposal.change), "{:?}", proposal.change);
}

#[test]
fn a_lever_moves_the_way_of_the_error_or_not_at_all() {
    // Seed lies 0.45 in too deep under a lever said to stand at 0.9 in: its first notch is 1 in.
    let setup = good().deeper(0.45).with(|s| s.settings.lever_depth = Some(q(0.9, "[in_i]")));
    let change = setup.judged().proposal.change;
    assert!(inspects(&change), "{change:?}");
}

#[test]
fn measured_wear_deepens_the_lever() {
    // Half an inch off the diameter takes a quarter inch of depth; the manual allows an inch.
    let setup = good().deeper(-0.3).with(|s| {
        s.planter.unit.opener.measured = Some(q(14.5, "[in_i]"));
        s.planter.unit.opener.manual_limit = Some(q(14.0, "[in_i]"));
    });
    let judged = setup.judged();
    assert_eq!(judged.proposal.cause, Some(Cause::WornOrMisread));
    let Change::Depth { from, to, .. } = judged.proposal.change else { panic!("no depth") };
    assert!((in_inches(to) - in_inches(from) - 0.25).abs() < 1e-9);
}

#[test]
fn a_lever_nobody_reported_allows_for_worn_discs() {
    let setup = good().deeper(0.5).with(|s| {
        s.settings.lever_depth = None;
        s.planter.unit.opener.measured = Some(q(14.5, "[in_i]"));
        s.planter.unit.opener.manual_limit = Some(q(14.0, "[in_i]"));
    });
    let Change::Depth { from, to, .. } = setup.judged().proposal.change else { panic!("no depth") };
    assert!((in_inches(from) - 2.25).abs() < 1e-9, "2 in and half of the half inch that is worn");
    assert!((in_inches(to) - 1.75).abs() < 1e-9);
}

#[test]
fn an_odd_row_does_not_move_the_planter() {
    let judged = good().row(5, |r| move_row(r, -0.8)).judged();
    let depth = judged.statistics.depth.unwrap();
    assert_eq!(depth.set_aside.iter().map(|s| s.row).collect::<Vec<_>>(), [5]);
    assert!((in_inches(depth.planter.mean) - 2.0).abs() < 1e-9);
    assert_eq!(depth.settled.side, Side::Inside);
    assert!(judged.ignored.iter().any(|i| i.rows == [5]));
}

#[test]
fn two_odd_rows_of_seven_do_not_hide_each_other() {
    let setup = good().with(|s| s.rows = (2..=8).map(good_row).collect()).rows(|r| {
        r.behind_tyre = false;
        if r.row == 3 || r.row == 6 {
            move_row(r, -0.6);
        }
    });
    let depth = setup.judged().statistics.depth.unwrap();
    assert_eq!(depth.set_aside.iter().map(|s| s.row).collect::<Vec<_>>(), [3, 6]);
}

#[test]
fn rows_that_agree_to_the_last_digit_are_not_known_better_than_the_ruler() {
    let setup = good().with(|s| s.rows.truncate(2)).rows(|r| r.seed_depths = inches(&[2.125]));
    let depth = setup.judged().statistics.depth.unwrap();
    // One reading of an eighth of an inch: 0.125 / sqrt(12) = 0.0361 in; t(0.975, 1) = 12.706.
    let half = in_inches(depth.planter.high.unwrap() - depth.planter.mean);
    assert!((half - 12.706 * 0.036_08 / 2.0_f64.sqrt()).abs() < 1e-3, "{half}");
    assert!(!depth.settled.settled);
}

/// By hand: five seeds a row, 0.1 in apart, so `s_w` = 0.1581 in with 8 degrees of freedom; two row
/// means alike, so `s_b`² = -0.1581² / 5 = -0.005 in² with 1. What is usual (0.25 in and 0.0625 in)
/// is worth 4: `s_w`² = (4 0.0625 + 8 0.025) / 12 = 0.0375, `s_b`² = (4 0.003906 - 0.005) / 5 =
/// 0.002125, one further row mean 0.002125 + 0.0375 / 5 = 0.009625 in². The mean is 0.05 in from the
/// edge. With 17 rows s² = 15 / 16 0.009625, t(0.975, 16) s / sqrt(17) = 0.0488 in is not too wide;
/// with 16 t(0.975, 15) s / sqrt(16) = 0.0505 in is. Two rows are dug.
#[test]
fn the_rows_that_settle_it_follow_from_both_stages() {
    let setup = good().with(|s| s.planter.rows = 24).with(|s| s.rows.truncate(2));
    let setup = setup.rows(|r| r.seed_depths = inches(&[2.0, 2.1, 2.2, 2.3, 2.4]));
    let depth = setup.judged().statistics.depth.unwrap();
    assert_eq!((depth.settled.side, depth.settled.more_rows), (Side::Open, Some(15)));
}
