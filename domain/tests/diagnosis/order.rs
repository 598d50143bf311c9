//! What comes first, and what one dig may not decide.

use domain::conditions::{CoverState, Moisture, TossTest};
use domain::dig::{
    Bottom, Cause, Change, Class, CleanerRunning, Closure, Side, Strength, Wall, WheelFeel,
};
use domain::settings::Caution;

use super::cases::q;
use super::digs::{Setup, good, inches, move_row};
use super::{free, inspects, wet};

#[test]
fn a_good_dig_changes_nothing() {
    let advised = good().case(|_, case| case.down_force);
    let judged = good().with(|s| s.settings.down_force = Some(advised)).judged();
    assert_eq!(judged.findings, Vec::new());
    assert_eq!(judged.proposal.change, Change::KeepAsIs);
    let depth = judged.statistics.depth.unwrap();
    assert_eq!(depth.settled.side, Side::Inside);
    assert!(judged.missing.is_empty(), "{:?}", judged.missing);
}

#[test]
fn one_row_settles_nothing_and_asks_for_two_more() {
    let judged = good().with(|s| s.rows.truncate(1)).judged();
    let depth = judged.statistics.depth.clone().unwrap();
    assert!(depth.planter.low.is_none() && !depth.settled.settled);
    assert!(matches!(judged.proposal.change, Change::DigMore { rows: 2, .. }));
    assert!(judged.proposal.cautions.contains(&Caution::DiggingBehind));
}

#[test]
fn one_row_does_not_move_the_planter_whatever_its_signs() {
    let all_wrong = good().with(|s| s.rows.truncate(1)).rows(|r| {
        r.gauge_wheels = Some(WheelFeel::SpinFree);
        r.bottom = Some(Bottom::W);
        r.closed = Some(Closure::OverPacked);
        r.moist_at_seed = Some(false);
        r.cleaner = Some(CleanerRunning::BelowSurface);
        move_row(r, -0.5);
    });
    let judged = all_wrong.judged();
    assert!(matches!(&judged.proposal.change, Change::Inspect { rows, .. } if rows == &[1]));
    assert!(judged.resistance.is_none());
}

#[test]
fn the_cleaner_goes_before_the_force() {
    let setup = free(good().deeper(-0.5)).rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface));
    let judged = setup.judged();
    let causes: Vec<Cause> = judged.findings.iter().map(|f| f.cause).collect();
    assert_eq!(causes, [Cause::CleanerTooDeep, Cause::TooLittleForce]);
    assert!(matches!(judged.proposal.change, Change::CleanerHeight { .. }));
}

#[test]
fn wet_soil_goes_before_everything() {
    let setup = wet(good().rows(|r| {
        r.wall = Some(Wall::Shiny);
        r.gauge_wheels = Some(WheelFeel::Locked);
        r.bottom = Some(Bottom::W);
    }));
    let judged = setup.judged();
    assert!(judged.findings.len() >= 3);
    assert!(matches!(judged.proposal.change, Change::Wait { .. }));
}

#[test]
fn strength_weighs_what_speaks_for_and_against() {
    let strength = |setup: Setup| setup.judged().findings[0].strength;
    assert_eq!(strength(free(good().deeper(-0.5))), Strength::Strong);
    assert_eq!(strength(free(good())), Strength::Likely, "free and no print, but at depth");
    let deep_cleaner =
        |setup: Setup| setup.rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface));
    assert_eq!(strength(deep_cleaner(free(good().deeper(-0.5)))), Strength::Strong);
    assert_eq!(
        strength(deep_cleaner(good().deeper(-0.5))),
        Strength::Likely,
        "shallow, but the wheels carry load"
    );
    assert_eq!(strength(deep_cleaner(good())), Strength::Possible, "nothing else is wrong yet");
    let only_free = good().rows(|r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    assert_eq!(strength(only_free), Strength::Possible, "free, but at depth");
}

#[test]
fn a_shiny_wall_in_soil_that_nobody_reported_asks_for_a_ball_of_it() {
    let unknown = || {
        good().rows(|r| r.wall = Some(Wall::Shiny)).with(|s| {
            s.field.moisture = None;
            s.field.ball = None;
            s.field.toss = None;
            s.field.ribbon = None;
        })
    };
    let judged = unknown().judged();
    assert_eq!(judged.proposal.cause, Some(Cause::SoilTooWet));
    assert_eq!(judged.findings[0].strength, Strength::Possible);
    assert!(matches!(judged.proposal.change, Change::Wait { .. }));
    let causes =
        |setup: Setup| -> Vec<Cause> { setup.judged().findings.iter().map(|f| f.cause).collect() };
    let locked = unknown().rows(|r| r.gauge_wheels = Some(WheelFeel::Locked));
    assert!(!causes(locked).contains(&Cause::SoilTooWet), "the load explains the wall");
}

#[test]
fn signs_of_the_soil_that_disagree_are_named() {
    let setup = wet(good().rows(|r| r.wall = Some(Wall::Shiny))).with(|s| {
        s.field.moisture = Some(Moisture::Moist);
        s.field.ball = None;
        s.field.toss = Some(TossTest::LandsWhole);
    });
    let finding = &setup.judged().findings[0];
    assert_eq!(finding.cause, Cause::SoilTooWet);
    assert_eq!(finding.evidence_against, ["another sign of the field report says that it is fit"]);
}

#[test]
fn a_single_row_that_scatters_is_loose_unless_it_rides_free() {
    let setup = good().row(5, |r| r.seed_depths = inches(&[1.4, 2.6, 1.5, 2.5, 2.0]));
    let loose = |setup: &Setup| {
        let found = setup.judged().findings.into_iter().find(|f| f.cause == Cause::LooseUnit);
        found.map(|f| (f.class, f.rows))
    };
    assert_eq!(loose(&setup), Some((Class::SomeRows, vec![5])));
    let free = setup.row(5, |r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    assert_eq!(loose(&free), None);
}

#[test]
fn nothing_measured_asks_for_depth() {
    let setup = good().rows(|r| {
        *r = domain::dig::RowReading {
            wall: Some(Wall::Crumbly),
            ..domain::dig::RowReading::of(r.row)
        };
    });
    let judged = setup.judged();
    assert!(judged.statistics.depth.is_none());
    assert!(matches!(judged.proposal.change, Change::DigMore { rows: 3, .. }));
    assert!(judged.missing.iter().any(|m| m.what == "depth of the seeds"));
}

#[test]
fn green_cover_lifts_the_cleaners_and_dead_cover_clears_them() {
    let wrapped = || good().rows(|r| r.cleaner = Some(CleanerRunning::Wrapped));
    assert!(matches!(wrapped().judged().proposal.change, Change::CleanerHeight { .. }));
    let dead = wrapped().with(|s| {
        if let Some(cover) = &mut s.field.cover {
            cover.state = Some(CoverState::DeadCrisp);
        }
    });
    assert!(inspects(&dead.judged().proposal.change));
}

#[test]
fn a_planter_without_a_source_of_force_is_never_told_to_set_one() {
    let setup = good().with(|s| {
        s.planter.down_force = domain::planter::DownForce::WeightOnly;
        s.settings.down_force = Some(q(300.0, "[lbf_av]"));
    });
    assert!(!matches!(setup.judged().proposal.change, Change::DownForce { .. }));
}
