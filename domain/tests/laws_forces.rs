//! Laws of the forces, the window, the frame, the hopper and what to measure next, for any planter
//! and field.

mod cases;

use cases::{MOISTURES, inputs, q};
use domain::conditions::{Conditions, Crop, Moisture};
use domain::planter::{Cleaner, Coulter, CoulterMount, DownForce, DriveVerdict, Hopper, Setting};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured, Ratio};
use domain::settings::{
    DownForceAdvice, Fill, ForceRange, Inputs, NamedForce, Recommendation, SoilFrom, SourceKnown,
    StageKind, load_window, recommend,
};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn run(inputs: &Inputs) -> Recommendation {
    recommend(inputs, &K)
}

fn force(newtons: f64) -> Force {
    Force::from_si(newtons)
}

fn named(advice: &DownForceAdvice, name: NamedForce) -> Option<ForceRange> {
    advice.forces.iter().find(|f| f.force == name).copied()
}

fn bare() -> Conditions {
    Conditions { moisture: Some(Moisture::Moist), ..Conditions::of(Crop::Corn) }
}

proptest! {
    #![proptest_config(cases::law(1_000))]

    #[test]
    fn every_force_has_a_range_that_holds_its_likely_figure(case in inputs()) {
        let r = run(&case);
        let advice = &r.down_force;
        for f in &advice.forces {
            prop_assert!(f.low <= f.likely && f.likely <= f.high, "{f:?}");
            prop_assert!(f.low.si().is_finite() && f.high.si().is_finite(), "{f:?}");
        }
        let mut names: Vec<_> = advice.forces.iter().map(|f| f.force).collect();
        let many = names.len();
        names.dedup();
        prop_assert_eq!(names.len(), many, "a force stands twice");
        for name in [NamedForce::UnitWeight, NamedForce::Attachments, NamedForce::Opener,
            NamedForce::Cleaner, NamedForce::Closing, NamedForce::Arms, NamedForce::Aim,
            NamedForce::Ceiling, NamedForce::NeedEmpty, NamedForce::LoadEmpty] {
            prop_assert!(named(advice, name).is_some(), "{name:?} is missing");
        }
        for name in ["opener", "parallel arms"] {
            let step = r.trace.find(name).unwrap();
            prop_assert!(step.low.unwrap() <= step.value && step.value <= step.high.unwrap(), "{step:?}");
        }
        let soil = r.trace.find("soil-state factor").unwrap();
        prop_assert!(soil.low.unwrap() <= soil.value && soil.value <= soil.high.unwrap());
    }

    #[test]
    fn the_likely_balance_adds_up_from_the_forces(case in inputs()) {
        use NamedForce as N;
        let advice = run(&case).down_force;
        let at = |name| named(&advice, name).map_or(0.0, |f| f.likely.si());
        let up = at(N::Opener) + at(N::Coulter) + at(N::Cleaner) + at(N::Closing) + at(N::SpeedLoss);
        let down = at(N::UnitWeight) + at(N::Attachments) + at(N::Arms);
        let empty = at(N::Aim) + up - down;
        prop_assert!((at(N::NeedEmpty) - empty).abs() < 1e-6, "{} {empty}", at(N::NeedEmpty));
        if named(&advice, N::NeedFull).is_some() {
            prop_assert!((at(N::NeedFull) - empty + at(N::SeedFull)).abs() < 1e-6);
        }
        let load = (advice.per_row.si() + down - up).max(0.0);
        prop_assert!((at(N::LoadEmpty) - load).abs() < 1e-6);
    }

    #[test]
    fn more_weight_never_needs_more_force_and_more_lift_never_less(case in inputs(), more in 0.0..300.0_f64) {
        let base = |case: &Inputs| {
            let f = run(case).down_force;
            (f.need.si(), f.need_low.si(), f.need_high.si())
        };
        let mut case = case;
        case.goals.depth.get_or_insert_with(|| q(2.0, "[in_i]"));
        case.planter.unit.weight = Some(force(700.0));
        case.planter.unit.attachments = Some(force(300.0));
        case.planter.unit.closing_lift = Some(force(100.0));
        let before = base(&case);
        for part in 0..3 {
            let mut other = case.clone();
            let unit = &mut other.planter.unit;
            match part {
                0 => unit.weight = Some(force(700.0 + more)),
                1 => unit.attachments = Some(force(300.0 + more)),
                _ => unit.closing_lift = Some(force(100.0 + more)),
            }
            let after = base(&other);
            // Weight and closing force count one for one.
            let sign = if part == 2 { 1.0 } else { -1.0 };
            for (a, b) in [(before.0, after.0), (before.1, after.1), (before.2, after.2)] {
                prop_assert!((b - a - sign * more).abs() < 1e-3, "part {part}: {a} {b} {more}");
            }
        }
    }

    #[test]
    fn more_speed_at_an_unchanged_setting_never_adds_load_nor_contact(
        case in inputs(), set in 0.0..1500.0_f64, more in 0.0..6.0_f64,
    ) {
        let mut case = case;
        case.goals.depth = Some(q(2.0, "[in_i]"));
        case.goals.down_force = Some(force(set));
        let mut at = |mph: f64| {
            case.goals.speed = Some(q(mph, "[mi_i]/h"));
            run(&case).down_force.as_box_empties
        };
        for (slow, fast) in at(4.0).iter().zip(at(4.0 + more)) {
            prop_assert!(fast.load <= slow.load && fast.contact_loss >= slow.contact_loss);
            prop_assert!(fast.load_high.si() <= slow.load_high.si() + 1.0);
        }
    }

    #[test]
    fn what_nobody_observed_never_narrows_the_range(case in inputs()) {
        let width = |case: &Inputs| {
            let f = run(case).down_force;
            f.need_high.si() - f.need_low.si()
        };
        let mut known = case;
        known.goals.depth = Some(q(2.0, "[in_i]"));
        known.field = Conditions { cover: known.field.cover, ..bare() };
        known.planter.unit.arms.angle = Some(q(0.0, "deg"));
        known.planter.unit.coulter =
            Some(Coulter { mount: CoulterMount::Unit, above_opener: Some(q(8.0, "mm")) });
        let before = width(&known);
        let mut unknown = known.clone();
        unknown.field.moisture = None;
        prop_assert!(width(&unknown) >= before - 1e-6, "moisture");
        let mut unknown = known.clone();
        unknown.planter.unit.arms.angle = None;
        unknown.planter.unit.arms.bar_too_high = None;
        prop_assert!(width(&unknown) >= before - 1e-6, "arms");
        known.planter.unit.coulter =
            Some(Coulter { mount: CoulterMount::Unit, above_opener: None });
        prop_assert!(width(&known) >= before - 1e-6, "height of the coulter");
    }

    #[test]
    fn a_fixed_cleaner_never_needs_less_than_a_floating_one_nor_that_less_than_none(case in inputs()) {
        let with = |cleaner| {
            let mut case = case.clone();
            case.planter.unit.cleaner = cleaner;
            let f = run(&case).down_force;
            (f.need.si(), f.need_high.si(), named(&f, NamedForce::Cleaner).unwrap())
        };
        let (none, floating, fixed) =
            (with(Cleaner::None), with(Cleaner::Floating), with(Cleaner::Fixed));
        prop_assert!(none.0 <= floating.0 + 1e-9 && floating.0 <= fixed.0 + 1e-9);
        prop_assert!(none.1 <= floating.1 + 1e-6 && floating.1 <= fixed.1 + 1e-6);
        prop_assert!(none.2.high.si().abs() < 1e-9 && fixed.2.likely.si() > 0.0);
    }

    #[test]
    fn a_coulter_lifts_what_carries_it(case in inputs()) {
        let with = |mount: Option<CoulterMount>| {
            let mut case = case.clone();
            case.goals.depth = Some(q(2.0, "[in_i]"));
            case.planter.unit.coulter =
                mount.map(|mount| Coulter { mount, above_opener: Some(q(0.25, "[in_i]")) });
            // Level arms: the draft, which a coulter raises, then has no say.
            case.planter.unit.arms.angle = Some(q(0.0, "deg"));
            case.planter.down_force = DownForce::WeightOnly;
            run(&case).down_force
        };
        let (none, unit, frame) =
            (with(None), with(Some(CoulterMount::Unit)), with(Some(CoulterMount::Frame)));
        let reaction = named(&unit, NamedForce::Coulter).unwrap().likely;
        prop_assert!((unit.need - none.need - reaction).si().abs() < 1e-6);
        prop_assert!((frame.need - none.need).si().abs() < 1e-6);
        prop_assert!(named(&frame, NamedForce::Coulter).is_none());
        prop_assert_eq!(named(&frame, NamedForce::FrameCoulter).unwrap().likely, reaction);
        for (bare, coulter) in none.sections.iter().zip(&frame.sections) {
            prop_assert!(coulter.left_on_wheels <= bare.left_on_wheels);
            prop_assert!(coulter.most_per_row <= bare.most_per_row);
        }
    }

    #[test]
    fn the_window_holds_its_aim_at_any_chance_of_losing_contact(
        moisture in prop::sample::select(MOISTURES.to_vec()), p in 0.01..0.15_f64, more in 0.0..0.1_f64,
    ) {
        let at = |p: f64| load_window(moisture, Some(Ratio::from_si(p)), &K);
        let (strict, lax) = (at(p), at((p + more).min(0.15)));
        for w in [strict, lax] {
            let edges = w.edges.unwrap();
            prop_assert!(w.aim <= w.ceiling && w.low <= w.ceiling, "{w:?}");
            prop_assert!(edges.low_from <= edges.low_to && edges.ceiling_from <= edges.ceiling_to);
            prop_assert!(edges.aimed_loss <= edges.tolerated_loss);
        }
        // Who tolerates more never asks for more load, and never loses room.
        prop_assert!(lax.aim <= strict.aim && lax.contact <= strict.contact);
        prop_assert!(lax.room || !strict.room);
        let usual = load_window(moisture, None, &K);
        let same = at(K.contact_loss_aimed.value);
        prop_assert!((usual.aim - same.aim).si().abs() < 1e-9 && (usual.low - same.low).si().abs() < 1e-9);
    }

    #[test]
    fn an_emptier_hopper_never_needs_a_lighter_setting(case in inputs()) {
        let r = run(&case).down_force;
        let central = matches!(case.planter.unit.hopper, Hopper::Central);
        prop_assert_eq!(r.hopper.is_none(), central);
        let Some(hopper) = r.hopper else { return Ok(()) };
        let levels = &hopper.at_levels;
        prop_assert_eq!(levels.iter().map(|l| l.fill).collect::<Vec<_>>(), [Fill::Full, Fill::Half, Fill::Empty]);
        for pair in levels.windows(2) {
            prop_assert!(pair[0].need <= pair[1].need && pair[0].per_row <= pair[1].per_row);
        }
        prop_assert!((levels[2].need - levels[0].need - hopper.swing).si().abs() < 1e-6);
        let serves = hopper.swing <= hopper.window_width;
        prop_assert_eq!(hopper.one_setting_serves, serves);
        prop_assert_eq!(hopper.changes.is_empty(), serves);
        if let Some(first) = hopper.changes.first() {
            prop_assert!((first.from_share - 1.0).abs() < 1e-12);
            prop_assert_eq!(first.per_row, levels[0].per_row);
        }
        for pair in hopper.changes.windows(2) {
            prop_assert!(pair[1].from_share <= pair[0].from_share && pair[1].per_row > pair[0].per_row);
        }
        prop_assert!(hopper.refill_at.is_none_or(|share| (0.0..1.0).contains(&share)));
        if let Some((_, most)) = case.planter.down_force.reach() {
            prop_assert!(hopper.changes.iter().all(|c| c.per_row.si() <= most.si() + 1e-6));
        }
    }

    #[test]
    fn the_stages_of_the_frame_come_in_order(case in inputs()) {
        let r = run(&case).down_force;
        prop_assert_eq!(r.frame_stages.is_empty(), r.sections.is_empty());
        for pair in r.frame_stages.windows(2) {
            prop_assert!(pair[0].at <= pair[1].at);
        }
        for section in &r.sections {
            prop_assert!(section.most_per_row <= section.lifts_at.unwrap(), "{section:?}");
            prop_assert!(section.left_low.unwrap() <= section.left_on_wheels);
            prop_assert!(section.left_high.unwrap() >= section.left_on_wheels);
        }
        for stage in &r.frame_stages {
            prop_assert_eq!(stage.reached, r.per_row >= stage.at);
        }
        let lifts = r.frame_stages.iter().any(|s| s.what == StageKind::Lifts && s.reached);
        let negative = r.sections.iter().any(|s| s.left_on_wheels.si() <= 1e-9);
        prop_assert!(lifts == negative || r.sections.iter().any(|s| s.left_on_wheels.si().abs() < 1e-6));
        if let Some(drive) = r.ground_drive {
            prop_assert!(drive.slips_from <= drive.slips_at && drive.slips_at <= drive.slips_at_latest);
            let slips = drive.verdict == DriveVerdict::Slips;
            prop_assert_eq!(slips, r.per_row.si() > drive.slips_at_latest.si() + 1e-9);
        }
    }

    #[test]
    fn what_is_set_can_be_set_and_is_never_extrapolated(case in inputs(), wanted in -800.0..3000.0_f64) {
        let source = &case.planter.down_force;
        let Some((least, most)) = source.reach() else { return Ok(()) };
        let (below, near, above) = (
            source.settable_not_above(force(wanted)),
            source.nearest_settable(force(wanted)),
            source.settable_not_below(force(wanted)),
        );
        prop_assert!(below <= above && below <= near && near <= above, "{below:?} {near:?} {above:?}");
        for f in [below, near, above] {
            prop_assert!(f.si() >= least.si() - 1e-6 && f.si() <= most.si() + 1e-6, "{f:?}");
        }
        if wanted > least.si() + 1e-3 && wanted < most.si() - 1e-3 {
            let gap = matches!(source, DownForce::Hydraulic { .. });
            prop_assert!(below.si() <= wanted + 1e-3 || gap, "{below:?} {wanted}");
            prop_assert!(above.si() >= wanted - 1e-3, "{above:?} {wanted}");
        }
        if let Setting::Pressure { pressure, .. } = source.setting_for(near) {
            let calibration = match source {
                DownForce::AirBag { calibration } | DownForce::Hydraulic { calibration, .. } => calibration,
                _ => &None,
            };
            if let Some(c) = calibration {
                let (low, high) = c.pressure_range();
                prop_assert!(pressure >= low && pressure <= high);
            }
        }
    }

    #[test]
    fn the_source_says_what_it_over_or_undershoots(case in inputs()) {
        let r = run(&case).down_force;
        let source = r.source.unwrap();
        prop_assert!((source.over_need - (r.per_row - r.need)).si().abs() < 1e-9);
        prop_assert!(source.decided.is_none());
        if let Some(empty) = source.when_empty {
            prop_assert!(empty.over.si() >= -1e-3, "{empty:?}");
            let need = empty.per_row - empty.over;
            if let DownForce::Spring { notches } = &case.planter.down_force {
                let between = notches.iter().any(|n| n.force >= need && n.force < empty.per_row);
                prop_assert!(!between, "a nearer notch is not below the need");
            }
        }
        match (&case.planter.down_force, source.known) {
            (DownForce::Hydraulic { calibration: Some(_), .. }, SourceKnown::Calibrated { check: Some(c), .. }) => {
                prop_assert_eq!(c.agrees, c.off_by().si().abs() <= c.allowed.si());
            }
            (DownForce::AirBag { calibration: Some(_) }, SourceKnown::Calibrated { check: None, .. })
            | (DownForce::AirBag { calibration: None }, SourceKnown::NotCalibrated)
            | (DownForce::WeightOnly, SourceKnown::WeightOnly)
            | (DownForce::Spring { .. }, SourceKnown::Printed { .. })
            | (DownForce::Hydraulic { calibration: None, .. }, SourceKnown::BoreAndRod { .. }) => {}
            (source, known) => prop_assert!(false, "{source:?} {known:?}"),
        }
    }

    #[test]
    fn measuring_never_widens_and_never_lowers_the_chance(case in inputs()) {
        let r = run(&case);
        let mut last = 1.0;
        for next in &r.measure_next {
            let n = next.narrowing.unwrap();
            prop_assert!(next.narrows_by <= last + 1e-12, "not sorted by gain");
            last = next.narrows_by;
            prop_assert_eq!((n.low_now, n.high_now), (r.down_force.need_low, r.down_force.need_high));
            let (now, then) = ((n.high_now - n.low_now).si(), (n.high_then - n.low_then).si());
            prop_assert!((next.narrows_by - (1.0 - then / now).max(0.0)).abs() < 1e-9);
            prop_assert!(n.chance_then >= n.chance_now && n.chance_then <= 1.0 && n.chance_now >= 0.0);
            prop_assert!(next.narrows_by >= 0.02 || n.chance_then - n.chance_now >= 0.02);
        }
        if r.down_force.soil.unwrap().from == SoilFrom::Penetrometer {
            prop_assert!(r.measure_next.iter().all(|n| !n.measure.contains("penetrometer")));
        }
        let unit = &case.planter.unit;
        if unit.weight.is_some() && unit.attachments.is_some() {
            prop_assert!(r.measure_next.iter().all(|n| !n.measure.starts_with("weight:")));
        }
    }
}

#[test]
fn the_aim_keeps_the_worked_figures() {
    // z of 2 % is 2.054 and of 5 % is 1.645 (tables of the normal distribution), sigma 476 N.
    let aim = |p: f64| load_window(Moisture::Dry, Some(q(p, "%")), &K).aim.si();
    assert!((aim(2.0) - 978.0).abs() < 1.0 && (aim(5.0) - 783.0).abs() < 1.0);
}
