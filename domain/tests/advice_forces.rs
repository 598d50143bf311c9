//! Forces, sources, frame and hopper: cases that can be followed by hand.

#![expect(clippy::unwrap_used, reason = "a broken case must fail loudly")]

mod cases;

use cases::{bags, point, q, worked_case};
use domain::conditions::Moisture;
use domain::planter::{
    Calibration, Cylinder, DownForce, DriveVerdict, FrameSection, FrameVerdict, GroundDrive,
    Hopper, Notch, Setting, Side,
};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured, unit};
use domain::settings::{
    DownForceAdvice, Inputs, Reach, Recommendation, SourceKnown, StageKind, recommend,
};

const K: Coefficients = Coefficients::STANDARD;

fn lbf(force: Force) -> f64 {
    unit("[lbf_av]").unwrap().read(force)
}

fn with(change: impl FnOnce(&mut Inputs)) -> Recommendation {
    let mut case = worked_case();
    change(&mut case);
    recommend(&case, &K)
}

fn forces(change: impl FnOnce(&mut Inputs)) -> DownForceAdvice {
    with(change).down_force
}

fn springs(forces: &[f64]) -> DownForce {
    let notch =
        |(i, f): (usize, &f64)| Notch { label: (i + 1).to_string(), force: q(*f, "[lbf_av]") };
    DownForce::Spring { notches: forces.iter().enumerate().map(notch).collect() }
}

#[test]
fn springs_say_which_notch_and_what_it_over_or_undershoots() {
    // Need 223 lbf half full, 223 + 45 = 268 lbf empty (0.8 bu x 56 lbf is 45 lbf).
    let advice = forces(|c| c.planter.down_force = springs(&[0.0, 125.0, 250.0, 400.0]));
    let source = advice.source.unwrap();
    assert!((lbf(source.over_need) - (lbf(advice.per_row) - lbf(advice.need))).abs() < 1e-6);
    let empty = source.when_empty.unwrap();
    assert_eq!(empty.setting, Setting::Notch { label: "4".to_owned() });
    assert!((lbf(empty.over) - (400.0 - 268.0)).abs() < 2.0, "{}", lbf(empty.over));
    assert!(
        matches!(source.known, SourceKnown::Printed { most, .. } if (lbf(most) - 400.0).abs() < 1e-6)
    );
    // No notch is heavy enough for an empty hopper.
    let weak = forces(|c| c.planter.down_force = springs(&[0.0, 125.0, 250.0]));
    assert!(weak.source.unwrap().when_empty.is_none());
}

#[test]
fn a_third_point_checks_a_calibration() {
    let three = |lbf: f64| {
        Calibration::from_points(&[point(15.0, 120.0), point(30.0, lbf), point(60.0, 420.0)])
            .unwrap()
    };
    // The line through 15 and 60 psi gives 220 lbf at 30 psi; 5 % of 420 lbf is 21 lbf.
    for (measured, agrees) in [(220.0, true), (240.0, true), (242.0, false), (190.0, false)] {
        let check = three(measured).check(K.calibration_miss.value).unwrap();
        assert!((lbf(check.expected) - 220.0).abs() < 1e-6);
        assert!((lbf(check.off_by()) - (measured - 220.0)).abs() < 1e-6);
        assert!((lbf(check.allowed) - 21.0).abs() < 1e-6);
        assert_eq!(check.agrees, agrees, "{measured}");
    }
    let two = Calibration::from_points(&[point(15.0, 120.0), point(60.0, 420.0)]).unwrap();
    assert!(two.check(0.05).is_none(), "two points always fit");
    let advice =
        forces(|c| c.planter.down_force = DownForce::AirBag { calibration: Some(three(190.0)) });
    let SourceKnown::Calibrated { check: Some(check), .. } = advice.source.unwrap().known else {
        panic!("three points");
    };
    assert!(!check.agrees);
}

#[test]
fn a_decided_force_beyond_the_calibration_is_not_extrapolated() {
    let advice = forces(|c| {
        c.planter.down_force = bags();
        c.goals.down_force = Some(q(600.0, "[lbf_av]"));
    });
    assert!((lbf(advice.per_row) - 420.0).abs() < 1e-6, "the most that was measured");
    let Setting::Pressure { pressure, .. } = &advice.setting else { panic!("bags") };
    assert!((unit("[psi]").unwrap().read(*pressure) - 60.0).abs() < 1e-6);
    assert!((lbf(advice.source.unwrap().decided.unwrap()) - 600.0).abs() < 1e-6);
}

#[test]
fn bore_and_rod_serve_without_a_calibration() {
    // 1.5 in bore on the cap side: 1000 psi give 1767 lbf at the cylinder.
    let oil = DownForce::Hydraulic {
        cylinder: Cylinder {
            bore: q(1.5, "[in_i]"),
            rod: q(0.75, "[in_i]"),
            side: Side::Cap,
            lever_ratio: 0.25,
            most: q(2000.0, "[psi]"),
        },
        calibration: None,
        lift: Some(q(300.0, "[lbf_av]")),
    };
    let advice = forces(|c| c.planter.down_force = oil.clone());
    let Setting::Pressure { pressure, from } = &advice.setting else { panic!("oil") };
    let psi = unit("[psi]").unwrap().read(*pressure);
    assert!((psi / 25.0 - (psi / 25.0).round()).abs() < 1e-6, "whole steps of the gauge");
    assert!((lbf(advice.per_row) - psi * 1.767_146 * 0.25).abs() < 0.5);
    assert!(from.contains("bore and rod"));
    // A heavy unit in wet soil is lifted, and never by more than the cylinder can.
    let light = forces(|c| {
        c.planter.down_force = oil;
        c.planter.unit.coulter = None;
        c.planter.unit.weight = Some(q(400.0, "[lbf_av]"));
        c.field.moisture = Some(Moisture::Wet);
    });
    let Setting::Lift { force } = light.setting else { panic!("{:?}", light.setting) };
    assert!(lbf(force) > 0.0 && lbf(force) <= 300.0);
}

fn sections() -> Vec<FrameSection> {
    let section = |name: &str, rows, weight: f64| FrameSection {
        name: name.to_owned(),
        rows,
        empty_weight: q(weight, "[lbf_av]"),
        on_hitch: q(0.0, "[lbf_av]"),
        wheels: 2,
    };
    vec![section("left wing", 2, 900.0), section("centre", 4, 4000.0)]
}

#[test]
fn stages_come_before_lift_off() {
    let advice = forces(|c| {
        // Dry soil wants more than the drive can bear.
        c.field.moisture = Some(Moisture::Dry);
        c.planter.frame = sections();
        c.planter.down_force = springs(&[0.0, 125.0, 250.0, 400.0, 500.0]);
        c.planter.ground_drive = Some(GroundDrive {
            section: "left wing".to_owned(),
            pull: q(135.0, "[lbf_av]"),
            friction: None,
        });
    });
    // Left wing: 900 lbf for two rows. Lifts at 450; 135 lbf of pull at a grip of 0.45 need 300 lbf
    // on the wheels, which are left at 300 a row; the reserve of 100 lbf is used up at 400.
    let stage = |what| {
        advice.frame_stages.iter().find(|s| s.section == "left wing" && s.what == what).unwrap()
    };
    assert!((lbf(stage(StageKind::Lifts).at) - 450.0).abs() < 1e-6);
    assert!((lbf(stage(StageKind::ReserveUsedUp).at) - 400.0).abs() < 0.1);
    assert!((lbf(stage(StageKind::GroundDriveSlips).at) - 300.0).abs() < 1e-6);
    // So the advice never goes to 400: the drive would slip.
    assert!(lbf(advice.per_row) <= 300.0 + 1e-6, "{}", lbf(advice.per_row));
    let drive = advice.ground_drive.unwrap();
    // At 250 lbf a row 400 lbf are left: enough at the likely grip of 0.45, not at the poorest of 0.3.
    assert!((lbf(advice.per_row) - 250.0).abs() < 1e-6);
    assert!((lbf(drive.left_on_wheels) - 400.0).abs() < 1e-6);
    assert_eq!(drive.verdict, DriveVerdict::MaySlip);
    assert_eq!(advice.frame, FrameVerdict::Holds);
}

#[test]
fn small_hoppers_are_served_by_one_setting_and_big_ones_are_not() {
    let swing = |bushels: f64| {
        forces(|c| {
            c.planter.unit.hopper = Hopper::PerRow { volume: Some(q(bushels, "[bu_us]")) };
        })
        .hopper
        .unwrap()
    };
    // The window of moist soil is 610 to 890 N wide: 280 N, the seed of 1.12 bu.
    let small = swing(1.0);
    assert!(small.one_setting_serves && small.changes.is_empty());
    assert!((small.swing.si() - 249.1).abs() < 0.1, "1 bu of corn is 56 lbf");
    assert!((small.window_width.si() - 280.0).abs() < 1.0);
    let big = swing(3.0);
    assert!(!big.one_setting_serves);
    assert!(big.changes.len() >= 2, "{big:?}");
    let central = forces(|c| c.planter.unit.hopper = Hopper::Central);
    assert!(central.hopper.is_none());
}

#[test]
fn where_nothing_can_be_set_the_hopper_is_refilled() {
    // Light soil, 3 bu: the weight of the unit alone carries the wheels only while seed is in.
    let advice = forces(|c| {
        c.planter.unit.hopper = Hopper::PerRow { volume: Some(q(3.0, "[bu_us]")) };
        c.planter.unit.coulter = None;
        c.planter.unit.weight = Some(q(200.0, "[lbf_av]"));
        c.planter.down_force = DownForce::WeightOnly;
    });
    let hopper = advice.hopper.unwrap();
    assert_eq!(hopper.changes.len(), 1, "there is nothing to change: {hopper:?}");
    assert!(hopper.refill_at.is_some_and(|share| share > 0.0 && share < 1.0), "{hopper:?}");
}

#[test]
fn a_lower_chance_of_losing_contact_asks_for_more_load() {
    let at = |percent: f64| {
        let r = with(|c| c.goals.contact_loss = Some(q(percent, "%")));
        (r.down_force.need.si(), r.down_force.window)
    };
    let ((two, _), (five, window), (ten, _)) = (at(2.0), at(5.0), at(10.0));
    let usual = forces(|_| {});
    assert!(two > five && five > ten);
    assert!((five - usual.need.si()).abs() < 1e-6);
    assert!((window.low - usual.window.low).si().abs() < 1e-6);
}

#[test]
fn what_to_measure_is_told_in_pounds() {
    let r = with(|_| {});
    let first = &r.measure_next[0];
    assert!(first.measure.contains("coulter"), "{:?}", r.measure_next);
    let n = first.narrowing.unwrap();
    assert!(lbf(n.high_then - n.low_then) < 0.85 * lbf(n.high_now - n.low_now));
    assert!(n.chance_then > n.chance_now);
    // Nobody felt the soil: the penetrometer tells much.
    let blind = with(|c| c.field.moisture = None);
    assert!(blind.measure_next.iter().any(|m| m.measure.contains("penetrometer")));
}

#[test]
fn a_light_frame_holds_bags_back_that_nobody_calibrated() {
    let light = FrameSection {
        name: "bar".to_owned(),
        rows: 8,
        empty_weight: q(300.0, "[lbf_av]"),
        on_hitch: q(0.0, "[lbf_av]"),
        wheels: 2,
    };
    let r = with(|c| {
        c.planter.down_force = DownForce::AirBag { calibration: None };
        c.planter.frame = vec![light];
    });
    let Reach::TooLittle { frame_is_the_limit, .. } = r.down_force.reach else {
        panic!("{:?}", r.down_force.reach);
    };
    assert!(frame_is_the_limit);
    assert!(!r.remedies.is_empty());
}
