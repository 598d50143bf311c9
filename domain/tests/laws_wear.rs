//! Laws that wear and its forecast keep.

mod cases;

use chrono::{Days, NaiveDate};
use domain::planter::inspection::{
    AreaLeft, NoRate, Outlook, Rate, RateFrom, Reading, RowHistory, SeasonPlan, Until, area_left,
    forecast, wear_rate, worst,
};
use proptest::prelude::*;

fn day(number: u64) -> NaiveDate {
    let first = NaiveDate::from_ymd_opt(2027, 3, 1).unwrap_or_default();
    first.checked_add_days(Days::new(number)).unwrap_or_default()
}

fn reading(area: f64, worn: f64, sd: f64) -> Reading {
    Reading { area, worn, sd }
}

/// A part that is read twice: wear in m, area in m², scatter of a reading in m.
fn pairs() -> impl Strategy<Value = (Reading, Reading)> {
    (0.0..0.05_f64, 1e4..5e7_f64, 0.0..0.003_f64, -0.4..0.4_f64).prop_map(
        |(wear, area, sd, start)| (reading(0.0, start, sd), reading(area, start + wear, sd)),
    )
}

/// Never is later than any area.
fn or_never(area: Option<f64>) -> f64 {
    area.unwrap_or(f64::INFINITY)
}

proptest! {
    #![proptest_config(cases::law(3_000))]

    #[test]
    fn the_rate_lies_within_its_range_and_is_never_negative((first, last) in pairs()) {
        let rate = wear_rate(first, last).expect("a rate");
        prop_assert!(0.0 <= rate.low && rate.low <= rate.likely && rate.likely <= rate.high);
        let exact = wear_rate(reading(first.area, first.worn, 0.0), reading(last.area, last.worn, 0.0));
        let exact = exact.expect("a rate");
        prop_assert!((exact.low - exact.high).abs() < 1e-15, "without scatter there is no range");
    }

    #[test]
    fn more_wear_never_leaves_more_area((first, last) in pairs(), more in 0.0..0.02_f64, room in -0.01..0.05_f64) {
        let limit = last.worn + room;
        let worse = reading(last.area, last.worn + more, last.sd);
        let left = area_left(last, limit, wear_rate(first, last).expect("a rate"), 0.0);
        let less = area_left(worse, limit, wear_rate(first, worse).expect("a rate"), 0.0);
        for (left, less) in [(left.early, less.early), (left.likely, less.likely), (left.late, less.late)] {
            prop_assert!(or_never(less) <= or_never(left) * (1.0 + 1e-9) + 1e-6, "{left:?} {less:?}");
        }
    }

    #[test]
    fn a_wider_limit_never_comes_sooner_and_planting_brings_it_nearer(
        (first, last) in pairs(), room in 0.0..0.05_f64, wider in 0.0..0.05_f64, since in 0.0..1e7_f64,
    ) {
        let rate = wear_rate(first, last).expect("a rate");
        let at = |room: f64, since: f64| area_left(last, last.worn + room, rate, since);
        let (near, far, planted) = (at(room, 0.0), at(room + wider, 0.0), at(room, since));
        prop_assert!(or_never(near.likely) <= or_never(far.likely) + 1e-6);
        prop_assert!(or_never(near.early) <= or_never(far.early) + 1e-6);
        prop_assert!(or_never(planted.likely) <= or_never(near.likely));
        prop_assert!(planted.likely.is_none_or(|area| area >= 0.0));
    }

    #[test]
    fn early_comes_before_likely_and_that_before_late((first, last) in pairs(), room in -0.01..0.05_f64, since in 0.0..1e7_f64) {
        let rate = wear_rate(first, last).expect("a rate");
        let AreaLeft { early, likely, late } = area_left(last, last.worn + room, rate, since);
        prop_assert!(or_never(early) <= or_never(likely) && or_never(likely) <= or_never(late));
    }

    #[test]
    fn worn_out_is_acre_nothing_whatever_the_rate((first, last) in pairs(), beyond in 0.0..0.05_f64, since in 0.0..1e7_f64) {
        let rate = wear_rate(first, last).expect("a rate");
        prop_assert_eq!(area_left(last, last.worn - beyond, rate, since), AreaLeft::NONE);
        let row = RowHistory { row: Some(3), readings: vec![first, last], since, known_rate: None };
        let until = Until { plan: None, done: 0.0, today: day(10) };
        let told = forecast(&[row], Some(last.worn - beyond), until);
        prop_assert_eq!(told[0].outlook, Outlook::WornOut);
        prop_assert_eq!(told[0].days, [Some(day(10)); 3]);
    }

    #[test]
    fn the_area_at_the_likely_rate_wears_the_part_to_its_limit((first, last) in pairs(), room in 0.0001..0.05_f64) {
        let rate = wear_rate(first, last).expect("a rate");
        if let Some(area) = area_left(last, last.worn + room, rate, 0.0).likely {
            prop_assert!((area * rate.likely - room).abs() < 1e-9 * room.max(1.0));
        }
    }

    #[test]
    fn a_part_that_got_better_than_readings_scatter_has_no_rate(
        start in -0.4..0.4_f64, sd in 0.0..0.003_f64, better in 0.0001..0.1_f64, area in 1e4..5e7_f64,
    ) {
        let open = domain::planter::inspection::may_differ(sd, sd);
        let last = reading(area, start - open - better, sd);
        prop_assert_eq!(wear_rate(reading(0.0, start, sd), last), Err(NoRate::Grew));
        let within = reading(area, start - open * 0.99, sd);
        let rate = wear_rate(reading(0.0, start, sd), within).expect("as good as the same");
        prop_assert!(rate.likely.abs() < 1e-18 && rate.low.abs() < 1e-18);
    }

    #[test]
    fn without_area_there_is_no_rate((first, last) in pairs(), back in 0.0..1e6_f64) {
        let same = reading(first.area - back, last.worn, last.sd);
        prop_assert_eq!(wear_rate(first, same), Err(NoRate::NoArea));
    }

    #[test]
    fn more_area_is_never_planted_sooner(
        area in 1e5..1e7_f64, done in 0.0..5e6_f64, one in 0.0..1e7_f64, more in 0.0..1e7_f64,
        from in 0_u64..40, long in 0_u64..60, today in 0_u64..60,
    ) {
        let plan = SeasonPlan { area, from: Some(day(from)), until: Some(day(from + long)) };
        let (first, later) = (plan.day_of(one, done, day(today)), plan.day_of(one + more, done, day(today)));
        match (first, later) {
            (Some(first), Some(later)) => {
                prop_assert!(first <= later);
                prop_assert!(one <= 0.0 || (first >= day(today) && later <= day(from + long).max(day(today))));
            }
            (None, Some(later)) => prop_assert!(false, "less area is planted later than {later}"),
            (_, None) => {}
        }
        prop_assert!(plan.left(done) >= 0.0 && plan.left(done) <= area);
    }

    #[test]
    fn the_first_row_has_the_least_area_left(wears in prop::collection::vec(0.0..0.02_f64, 1..24), room in 0.0..0.05_f64) {
        let rows: Vec<RowHistory> = (1_u16..).zip(&wears).map(|(row, wear)| RowHistory {
            row: Some(row),
            readings: vec![reading(0.0, 0.0, 0.0008), reading(1e6, *wear, 0.0008)],
            since: 0.0,
            known_rate: None,
        }).collect();
        let until = Until { plan: None, done: 0.0, today: day(0) };
        let told = forecast(&rows, Some(0.02 + room), until);
        let first = worst(&told).expect("a row");
        for row in &told {
            let (first, other) = (first.left.expect("a limit"), row.left.expect("a limit"));
            prop_assert!(or_never(first.likely) <= or_never(other.likely));
        }
    }
}

#[test]
fn a_row_with_one_reading_goes_by_the_others() {
    let row = |row, readings| RowHistory { row: Some(row), readings, since: 0.0, known_rate: None };
    let rows = [
        row(1, vec![reading(0.0, 0.0, 0.0), reading(1e6, 0.002, 0.0)]),
        row(2, vec![reading(0.0, 0.0, 0.0), reading(1e6, 0.004, 0.0)]),
        row(3, vec![reading(1e6, 0.001, 0.0)]),
        row(4, vec![]),
    ];
    let plan = SeasonPlan { area: 3e6, from: Some(day(0)), until: Some(day(30)) };
    let until = Until { plan: Some(plan), done: 0.0, today: day(0) };
    let told = forecast(&rows, Some(0.01), until);
    assert_eq!(told.len(), 3, "a row that nobody measured is left out");
    let (rate, from) = told[2].rate.expect("a rate");
    assert_eq!((from, told[2].no_rate), (RateFrom::OtherRows, Some(NoRate::OneReading)));
    assert!((rate.likely - 3e-9).abs() < 1e-18);
    assert!((rate.low - 2e-9).abs() < 1e-18 && (rate.high - 4e-9).abs() < 1e-18);
    // 9 mm are left at 3 mm a million m²: the end of the plan; at 4 mm it comes within it.
    assert_eq!(told[2].outlook, Outlook::WearsOut);
    assert_eq!(told[2].days[1], Some(day(30)));
    // 6 mm are left at 4 mm: half of the plan.
    assert_eq!(told[1].days[1], Some(day(15)));
    // 8 mm are left at 2 mm: beyond the plan.
    assert_eq!((told[0].outlook, told[0].days[1]), (Outlook::Lasts, None));
    assert_eq!(worst(&told).and_then(|row| row.row), Some(2));
}

#[test]
fn acres_since_a_test_grow_by_one_for_each_acre() {
    const ACRE: f64 = 4_046.872_609_874_252;
    let row = RowHistory {
        row: Some(1),
        readings: vec![reading(0.0, 150.0 * ACRE, 0.0)],
        since: 50.0 * ACRE,
        known_rate: Some(Rate::exact(1.0)),
    };
    let plan = SeasonPlan { area: 400.0 * ACRE, from: None, until: None };
    let until = Until { plan: Some(plan), done: 50.0 * ACRE, today: day(0) };
    let told = forecast(&[row], Some(400.0 * ACRE), until);
    let left = told[0].left.and_then(|left| left.likely).expect("acres");
    assert!((left / ACRE - 200.0).abs() < 1e-9);
    assert_eq!((told[0].outlook, told[0].no_rate), (Outlook::WearsOut, None));
}
