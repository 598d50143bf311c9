//! What a dig reports: what can't be, what is missing, and what a dig that came too early is good for.

mod cases;
mod digs;

use chrono::TimeDelta;
use digs::{Setup, good, inches};
use domain::dig::{
    Change, Judgement, Notice, NoticeCode, Observation, ObservationError, RowReading,
    SettingsInUse, WheelFeel, Whereabouts, hold_back, missing,
};
use domain::quantity::{Length, Measured};
use proptest::prelude::*;

/// Says what was set.
type Reporting = fn(&mut SettingsInUse);

fn row(spacings: &[f64], stretch: f64) -> RowReading {
    let stretch = Some(cases::q(stretch, "[in_i]"));
    RowReading { spacings: inches(spacings), stretch, ..RowReading::of(3) }
}

fn dig(rows: Vec<RowReading>) -> Result<Observation, Vec<ObservationError>> {
    Observation::new(SettingsInUse::default(), rows, String::new(), 8)
}

#[test]
fn spacings_that_sum_beyond_the_stretch_are_refused() {
    let errors = dig(vec![row(&[6.0; 20], 100.0)]).unwrap_err();
    let [error] = errors.as_slice() else { panic!("{errors:?}") };
    assert_eq!(
        error.to_string(),
        "the spacings of row 3 add up to 120.00 in (3048 mm), but only 100.00 in (2540 mm) of row \
         were opened: a spacing was given twice, or the stretch is wrong"
    );
    let ObservationError::BeyondStretch { index, row, sum, stretch } = *error else {
        panic!("{error:?}")
    };
    assert_eq!((index, row), (0, 3));
    assert!(
        (sum.si() / 0.0254 - 120.0).abs() < 1e-9 && (stretch.si() / 0.0254 - 100.0).abs() < 1e-9
    );
}

#[test]
fn an_inch_or_two_percent_is_left_for_the_tape() {
    // 2 % of 20 in is less than an inch, 2 % of 100 in is two.
    for (sum, stretch, taken) in
        [(21.0, 20.0, true), (21.1, 20.0, false), (102.0, 100.0, true), (102.1, 100.0, false)]
    {
        // A whisker off the edge, for the last digit of a sum.
        let sum = if taken { sum - 1e-9 } else { sum };
        assert_eq!(dig(vec![row(&[sum - 6.0, 6.0], stretch)]).is_ok(), taken, "{sum} of {stretch}");
    }
    let alone = RowReading { stretch: Some(Length::from_si(5.0)), ..RowReading::of(3) };
    assert_eq!(dig(vec![alone]).unwrap_err(), [ObservationError::NothingRead]);
}

proptest! {
    #[test]
    fn spacings_that_fit_are_taken_and_a_longer_stretch_never_refuses(
        spacings in prop::collection::vec(0.0..60.0_f64, 1..60), rest in 0.0..50.0_f64
    ) {
        let sum: f64 = spacings.iter().sum();
        let stretch = (sum + rest).max(6.0);
        prop_assert!(dig(vec![row(&spacings, stretch)]).is_ok());
        let half = sum / 2.0;
        if half > 6.0 {
            prop_assert!(dig(vec![row(&spacings, half)]).is_err(), "half of it is too short");
        }
    }
}

#[test]
fn what_nobody_said_about_the_dig_is_missing() {
    let says = |dig: &Observation, what: &str| missing(dig).iter().any(|it| it.what == what);
    let bare = good().rows(|r| r.stretch = None).dig();
    let bare = bare.at(Whereabouts { place: None, as_planned: None });
    for what in
        ["length of row behind the spacings", "place in the field", "how the rows were chosen"]
    {
        assert!(says(&bare, what), "{what}");
    }
    let stretch = Some(cases::q(40.0, "[in_i]"));
    let place = Some("north end".to_owned());
    let full = good().rows(|r| r.stretch = stretch).dig();
    let full = full.at(Whereabouts { place, as_planned: Some(true) });
    assert_eq!(missing(&full), [], "nothing is missing");
    assert_eq!(Notice::of_rows(&full), None);
    let picked = full.at(Whereabouts { place: None, as_planned: Some(false) });
    assert_eq!(Notice::of_rows(&picked).map(|it| it.code), Some(NoticeCode::RowsPicked));
    assert!(!says(&picked, "how the rows were chosen"), "it was said");
}

/// Free wheels and shallow seed: more down force.
fn shallow() -> Setup {
    good().deeper(-0.45).rows(|r| {
        r.gauge_wheels = Some(WheelFeel::SpinFree);
        r.print = None;
    })
}

fn early(setup: &Setup) -> (Judgement, Vec<NoticeCode>) {
    let mut judged = setup.judged();
    let notices = hold_back(&mut judged, &setup.dig(), TimeDelta::hours(4));
    (judged, notices.into_iter().map(|it| it.code).collect())
}

#[test]
fn an_early_dig_that_says_what_was_set_is_judged_as_ever() {
    let setup = shallow();
    assert!(matches!(setup.judged().proposal.change, Change::DownForce { .. }));
    let (judged, codes) = early(&setup);
    assert_eq!(judged, setup.judged());
    assert_eq!(codes, [NoticeCode::DugBeforeIssue]);
    assert!(codes.iter().all(|code| code.counts() && code.may_be_decided()));
}

#[test]
fn an_early_dig_proposes_no_change_from_a_setting_that_nobody_reported() {
    let changes: [(Setup, Reporting); 2] =
        [(shallow(), |s| s.down_force = None), (good().deeper(0.45), |s| s.lever_depth = None)];
    for (setup, forget) in changes {
        assert!(early(&setup).0.proposal == setup.judged().proposal);
        let unsaid = setup.with(|s| forget(&mut s.settings));
        let (judged, codes) = early(&unsaid);
        let change = &judged.proposal.change;
        assert!(matches!(change, Change::DigMore { rows: 0, .. }), "{change:?}");
        assert!(judged.resistance.is_none());
        assert_eq!(judged.findings, unsaid.judged().findings, "the findings stay");
        assert_eq!(codes, [NoticeCode::DugBeforeIssue, NoticeCode::SettingsNotReported]);
        assert!(!codes.iter().all(|code| code.counts()), "it teaches nothing");
    }
}

#[test]
fn what_was_reported_may_be_changed_though_another_setting_was_not() {
    let setup = shallow().with(|s| s.settings.speed = None);
    let (judged, codes) = early(&setup);
    assert!(matches!(judged.proposal.change, Change::DownForce { .. }));
    assert_eq!(codes, [NoticeCode::DugBeforeIssue, NoticeCode::SettingsNotReported]);
}
