//! The checklist and its limits: each item is whole, published limits judge as their sources say, and
//! where a person and a measurement disagree the worse counts.

mod cases;

use std::collections::BTreeSet;

use cases::{q, worked_planter};
use domain::planter::inspection::{
    Action, BladeClass, Direction, ITEMS, ItemCode, LimitFrom, Measure, OwnerLimits, OwnerPart,
    Status, direction, judge, limit_in_force, other_sources, parts, published,
};
use domain::planter::{ClosingPair, Planter};
use domain::provenance::{Coefficients, Mark};
use domain::quantity::{Length, Measured};

const K: Coefficients = Coefficients::STANDARD;

fn inches(value: f64) -> f64 {
    q::<Length>(value, "[in_i]").si()
}

/// What a measurement says by the limit in force.
fn says(item: ItemCode, value: f64, owner: &OwnerLimits, planter: &Planter) -> Option<Status> {
    let limit = limit_in_force(item, planter, owner, &K);
    judge(Status::NotChecked, Some(value), limit.as_ref()).by_measure
}

fn by_published(item: ItemCode, value: f64) -> Option<Status> {
    let mut planter = worked_planter();
    planter.unit.opener.manual_limit = None;
    planter.unit.opener.new_diameter = q(15.0, "[in_i]");
    says(item, value, &OwnerLimits::default(), &planter)
}

#[test]
fn every_code_has_one_item_with_words_source_and_order() {
    let codes: Vec<ItemCode> = ITEMS.iter().map(|item| item.code).collect();
    assert_eq!(codes, ItemCode::ALL, "front to back, each once");
    for item in ITEMS {
        for words in [item.name, item.look, item.pass, item.watch, item.replace, item.source] {
            assert!(words.len() > 5, "{:?}: {words:?}", item.code);
        }
        assert!(!item.action.words().is_empty(), "{:?}", item.code);
        assert_eq!(ItemCode::named(item.code.code()), Some(item.code));
        let wire = serde_json::to_value(item.code).unwrap();
        assert_eq!(wire, item.code.code(), "one name on the wire and in the table");
        let common = item.source == domain::provenance::sources::COMMON_PRACTICE;
        assert_eq!(common, item.mark == Mark::CommonPractice, "{:?}", item.code);
        assert!(!item.cautions.is_empty(), "{:?}: work on a planter can hurt", item.code);
        assert_eq!(direction(item.code).is_some(), item.measure.is_some());
    }
    let names: BTreeSet<&str> = ITEMS.iter().map(|item| item.name).collect();
    assert_eq!(names.len(), ITEMS.len());
    assert_eq!(ItemCode::named("everything"), None);
}

#[test]
fn published_limits_have_a_source_that_is_not_an_assumption() {
    let planter = worked_planter();
    for item in ITEMS {
        if let Some(known) = published(item.code, &planter, &OwnerLimits::default(), &K) {
            assert!(item.measure.is_some(), "{:?} has a limit and no measure", item.code);
            let mark = known.limit.mark;
            assert!(matches!(mark, Mark::Read | Mark::CommonPractice), "{:?}: {mark:?}", item.code);
            assert!(!known.limit.source.is_empty() && !known.limit.words.is_empty());
            assert_eq!(known.limit.from, LimitFrom::Published);
        }
    }
    // Of these nobody published a figure that holds for all makes.
    for item in [ItemCode::CoulterDiameter, ItemCode::ClosingDiameter] {
        assert!(published(item, &planter, &OwnerLimits::default(), &K).is_none());
        assert_eq!(
            by_published(item, inches(12.0)),
            None,
            "a measurement without a limit says nothing"
        );
    }
}

/// Iowa State University, planter pre-plant checklist: a 15 in disc is replaced at 14.5 in (F-O8).
#[test]
fn discs_are_judged_as_the_checklist_says() {
    let says = |value: f64| by_published(ItemCode::OpenerDiameter, inches(value));
    assert_eq!(says(15.0), Some(Status::Pass));
    assert_eq!(says(14.75), Some(Status::Pass));
    assert_eq!(says(14.6), Some(Status::Watch), "the last quarter of the half inch");
    assert_eq!(says(14.5), Some(Status::Replace));
    assert_eq!(says(14.4), Some(Status::Replace));
}

/// The same source: contact by thickness of the blade (F-O16).
#[test]
fn contact_is_judged_by_the_thickness_of_the_blade() {
    let planter = worked_planter();
    for class in BladeClass::ALL {
        let blade_thickness = Some(q(class.thickness, "mm"));
        let owner = OwnerLimits { blade_thickness, ..OwnerLimits::default() };
        let says = |value: f64| says(ItemCode::OpenerContact, inches(value), &owner, &planter);
        assert_eq!(says(class.least), Some(Status::Pass), "{class:?}");
        assert_eq!(says(class.most), Some(Status::Pass), "{class:?}");
        assert_eq!(says(class.least - 0.05), Some(Status::Replace), "{class:?}");
    }
    // Between two classes, and beyond them.
    assert_eq!(BladeClass::of(q(3.2, "mm")).map(|it| it.thickness), Some(3.0));
    assert_eq!(BladeClass::of(q(5.0, "mm")), None);
}

/// Without the thickness: Missouri calls 1.5 to 2 in ideal, Colorado adjusts below 2 in. All sources
/// are shown, and the one that is used is named.
#[test]
fn where_sources_disagree_all_are_shown_and_one_is_named() {
    let says = |value: f64| by_published(ItemCode::OpenerContact, inches(value));
    assert_eq!(says(2.0), Some(Status::Pass));
    assert_eq!(says(1.75), Some(Status::Watch));
    assert_eq!(says(1.5), Some(Status::Watch));
    assert_eq!(says(1.4), Some(Status::Replace));
    let all = other_sources(ItemCode::OpenerContact);
    let sources: BTreeSet<&str> = all.iter().map(|it| it.source.as_ref()).collect();
    assert_eq!(sources.len(), 6);
    let planter = worked_planter();
    let used = limit_in_force(ItemCode::OpenerContact, &planter, &OwnerLimits::default(), &K);
    assert!(sources.contains(used.unwrap().source.as_str()));
}

/// Iowa State University: under 2 in up and down, under 1 in sideways, at the back of the unit.
#[test]
fn play_is_judged_as_published() {
    for (item, limit) in [(ItemCode::ArmPlayVertical, 2.0), (ItemCode::ArmPlayHorizontal, 1.0)] {
        let says = |value: f64| by_published(item, inches(value));
        assert_eq!(says(0.0), Some(Status::Pass));
        assert_eq!(says(0.74 * limit), Some(Status::Pass));
        assert_eq!(says(0.8 * limit), Some(Status::Watch));
        assert_eq!(says(limit), Some(Status::Replace), "under it, the source says");
    }
    let arm = |value: f64| by_published(ItemCode::GaugeWheelArmPlay, inches(value));
    assert_eq!(arm(0.25), Some(Status::Watch), "over 1/4 in, the trade says");
    assert_eq!(arm(0.26), Some(Status::Replace));
}

/// Penn State University: test meters every year or every 300 to 400 acres.
#[test]
fn meters_are_judged_by_acres_since_the_test() {
    let acres = |value: f64| q::<domain::quantity::Area>(value, "[acr_us]").si();
    let says = |value: f64| by_published(ItemCode::SeedMeter, acres(value));
    assert_eq!(says(299.0), Some(Status::Pass));
    assert_eq!(says(300.0), Some(Status::Watch));
    assert_eq!(says(400.0), Some(Status::Replace));
}

/// Penn State: 1.5 to 2 in between closing wheels; common practice: 20 to 22 in under the bar, coulter 1/4
/// to 3/8 in higher than the opener.
#[test]
fn what_is_set_is_watched_outside_of_its_range_and_never_bought() {
    for (item, low, high) in [
        (ItemCode::ClosingGap, 1.5, 2.0),
        (ItemCode::ToolbarHeight, 20.0, 22.0),
        (ItemCode::CoulterHeight, 0.25, 0.375),
    ] {
        let says = |value: f64| by_published(item, inches(value));
        assert_eq!(direction(item), Some(Direction::Between));
        for good in [low, f64::midpoint(low, high), high] {
            assert_eq!(says(good), Some(Status::Pass), "{item:?} {good}");
        }
        for bad in [low - 0.05, high + 0.05] {
            assert_eq!(says(bad), Some(Status::Watch), "{item:?} {bad}");
        }
    }
    assert_eq!(by_published(ItemCode::OpenerLeadingEdge, inches(0.2)), Some(Status::Watch));
    assert_eq!(by_published(ItemCode::OpenerLeadingEdge, inches(0.1)), Some(Status::Pass));
}

#[test]
fn the_manual_wins_over_the_make_up_and_that_over_what_is_published() {
    let item = ItemCode::OpenerDiameter;
    let mut planter = worked_planter();
    planter.unit.opener.new_diameter = q(15.0, "[in_i]");
    planter.unit.opener.manual_limit = Some(q(14.25, "[in_i]"));
    let limit = limit_in_force(item, &planter, &OwnerLimits::default(), &K).unwrap();
    assert_eq!((limit.from, limit.replace), (LimitFrom::MakeUp, Some(inches(14.25))));
    let part = OwnerPart { replace: Some(inches(14.0)), ..OwnerPart::default() };
    let owner = OwnerLimits { parts: [(item, part)].into(), ..OwnerLimits::default() };
    let limit = limit_in_force(item, &planter, &owner, &K).unwrap();
    assert_eq!((limit.from, limit.replace), (LimitFrom::Manual, Some(inches(14.0))));
    assert!((limit.watch.unwrap() - inches(14.25)).abs() < 1e-12, "a quarter of the inch is left");
}

#[test]
fn the_worse_of_eye_and_measure_counts_and_both_are_kept() {
    let planter = worked_planter();
    let limit = limit_in_force(ItemCode::ArmPlayVertical, &planter, &OwnerLimits::default(), &K);
    let judged = |eye, inch: Option<f64>| judge(eye, inch.map(inches), limit.as_ref());
    let both = judged(Status::Pass, Some(2.5));
    assert_eq!(
        (both.by_eye, both.by_measure, both.status),
        (Status::Pass, Some(Status::Replace), Status::Replace)
    );
    assert!(both.disagree);
    let eye = judged(Status::Replace, Some(0.5));
    assert!(eye.disagree && eye.status == Status::Replace && eye.by_measure == Some(Status::Pass));
    let only_measured = judged(Status::NotChecked, Some(0.5));
    assert!(!only_measured.disagree && only_measured.status == Status::Pass);
    let nothing = judged(Status::NotChecked, None);
    assert_eq!((nothing.status, nothing.by_measure), (Status::NotChecked, None));
}

#[test]
fn only_what_the_planter_has_is_looked_at() {
    let with = |change: fn(&mut Planter)| {
        let mut planter = worked_planter();
        change(&mut planter);
        let has = ITEMS.iter().filter(|item| item.needs.has(&planter));
        has.map(|item| item.code).collect::<BTreeSet<_>>()
    };
    let bare = with(|planter| {
        planter.unit.coulter = None;
        planter.unit.closing = ClosingPair::Rubber;
    });
    assert!(!bare.contains(&ItemCode::CoulterDiameter) && bare.contains(&ItemCode::ClosingGap));
    assert!(
        !bare.contains(&ItemCode::ClosingDiameter) && !bare.contains(&ItemCode::DownForceSprings)
    );
    let spiked = with(|planter| planter.unit.closing = ClosingPair::TwoSpiked);
    assert!(spiked.contains(&ItemCode::ClosingDiameter) && !spiked.contains(&ItemCode::ClosingGap));
    assert!(
        spiked.contains(&ItemCode::CoulterDiameter) && spiked.contains(&ItemCode::DownForceBags)
    );
}

#[test]
fn parts_are_counted_for_each_row_and_wheels_as_the_planter_has_them() {
    let mut planter = worked_planter();
    let discs = parts(ItemCode::OpenerDiameter, &[3, 4], &planter).unwrap();
    assert_eq!((discs.count, discs.rows.as_slice()), (4, [3, 4].as_slice()), "two discs a row");
    planter.unit.closing = ClosingPair::SpikedAndRubber;
    assert_eq!(parts(ItemCode::ClosingDiameter, &[1], &planter).unwrap().count, 1);
    planter.unit.closing = ClosingPair::TwoSpiked;
    assert_eq!(parts(ItemCode::ClosingDiameter, &[1], &planter).unwrap().count, 2);
    let meters = parts(ItemCode::SeedMeter, &[1, 2], &planter).unwrap();
    assert!(meters.count == 0 && matches!(meters.action, Action::Service(_)));
    for item in ITEMS {
        let set = matches!(item.measure, Some(Measure::Set(_)));
        assert!(!set || matches!(item.action, Action::Adjust(_)), "{:?}", item.code);
    }
}
