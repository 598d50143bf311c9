//! From a dig check to an event.

#[path = "../cases/mod.rs"]
mod cases;
#[path = "../digs/mod.rs"]
mod setups;

use domain::dig::{Cause, CleanerRunning, Closure, WheelFeel, judge};
use domain::learning::{DigEvent, Place, SoilClass, blocks_force, event_of_dig, need_of_row};
use domain::planter::DownForce;
use domain::quantity::Measured;
use setups::{K, Setup, good};

fn place(setup: &Setup) -> Place {
    Place { class: SoilClass::of(&setup.field), planter: 1, field: 1, season: 2026 }
}

fn event(setup: &Setup) -> Option<DigEvent> {
    setup.case(|dig, context| {
        let judged = judge(dig, context);
        event_of_dig(1, place(setup), dig, context, &judged.statistics, &judged.findings)
    })
}

#[test]
fn the_balance_is_the_one_of_the_sheet() {
    let setup = good();
    let found = event(&setup).unwrap();
    // The load at the likely factor is the need turned round: force less need plus aim.
    let (need, aim) = setup.case(|_, context| {
        let sheet = domain::settings::recommend(
            &domain::settings::Inputs::new(
                setup.planter.clone(),
                setup.field.clone(),
                setup.goals.clone(),
            ),
            &K,
        );
        (sheet.down_force.need.si(), context.window.aim.si())
    });
    let set = setup.settings.down_force.unwrap().si();
    assert!((found.balance.load(1.0) - (set - need + aim)).abs() < 0.5, "{found:?}");
    assert!((found.balance.edges.locked - 890.0).abs() < 1e-9);
    // With a coulter 8 mm above the opener the reaction grows faster than with depth alone.
    assert!(found.balance.steepness > 1.05 && found.balance.steepness < 1.3, "{found:?}");
    assert_eq!(found.rows.len(), 5);
    assert!(found.rows.iter().filter(|r| r.behind_tyre).all(|r| r.depths.is_empty()));
}

#[test]
fn the_need_is_the_balance_without_down_force() {
    let setup = good();
    let found = event(&setup).unwrap();
    let need = setup.case(|dig, context| {
        let speed = dig.settings().speed.unwrap();
        need_of_row(&setup.planter, &setup.field, &K, context.depth_target, speed, context.window)
    });
    let set = setup.settings.down_force.unwrap().si();
    let half = need.levels[1].1;
    assert!((half + set - found.balance.pushes).abs() < 1e-6);
    assert!((need.metal - found.balance.metal).abs() < 1e-6);
    assert!(need.levels[0].1 > half && half > need.levels[2].1, "a full hopper pushes more");
    assert!((need.levels.iter().map(|l| l.0).sum::<f64>() - 1.0).abs() < 1e-12);
    assert!((need.lows.iter().map(|l| l.0).sum::<f64>() - 1.0).abs() < 1e-12);
}

#[test]
fn a_cleaner_that_carries_the_units_teaches_nothing_about_soil() {
    let setup = good().rows(|r| {
        r.cleaner = Some(CleanerRunning::BelowSurface);
        r.gauge_wheels = Some(WheelFeel::SpinFree);
    });
    assert_eq!(event(&setup), None);
    let judged = setup.judged();
    let first = judged.findings.first().unwrap();
    assert_eq!(first.cause, Cause::CleanerTooDeep);
    assert!(blocks_force(first));
}

#[test]
fn seed_off_the_bottom_says_nothing_about_the_furrow() {
    let setup = good().rows(|r| r.seed_on_bottom = Some(false));
    let found = event(&setup).unwrap();
    assert!(found.rows.iter().all(|r| r.depths.is_empty()));
    assert!(found.rows.iter().all(|r| r.wheels.is_some()), "the wheels still speak");
}

#[test]
fn a_row_that_is_off_is_left_out() {
    let setup = good().row(5, |r| setups::move_row(r, -0.8));
    let found = event(&setup).unwrap();
    assert_eq!(found.rows.len(), 4);
}

#[test]
fn what_is_wrong_on_some_rows_or_behind_them_does_not_hold_the_force_back() {
    let setup = good().row(2, |r| r.residue_in_furrow = Some(true)).rows(|r| {
        r.closed = Some(Closure::OverPacked);
    });
    let judged = setup.judged();
    assert!(!judged.findings.is_empty());
    assert!(judged.findings.iter().all(|f| !blocks_force(f)), "{:?}", judged.findings);
}

#[test]
fn a_force_that_nobody_knows_teaches_no_other_field() {
    let known = good().with(|s| s.settings.setting = None);
    assert!(known.judged().lesson.is_some());
    let reading = good().with(|s| s.settings.down_force = None);
    assert!(reading.settings.setting.is_some());
    assert_eq!(reading.judged().lesson, None, "a pressure that no calibration reaches");
    let as_advised = reading.with(|s| s.settings.setting = None);
    assert!(as_advised.judged().lesson.is_some(), "calibrated: taken as advised");
    let bags = as_advised.with(|s| s.planter.down_force = DownForce::AirBag { calibration: None });
    assert_eq!(bags.judged().lesson, None, "nobody calibrated the bags");
    let weighed = bags.with(|s| s.settings.down_force = known.settings.down_force);
    assert!(weighed.judged().lesson.is_some(), "somebody weighed the force");
}
