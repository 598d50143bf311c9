//! When a crop comes up, and when to count.

use chrono::Days;
use domain::conditions::{Conditions, Crop, Moisture, TextureClass};
use domain::provenance::{Coefficients, Mark};
use domain::quantity::Length;
use domain::stand::{DayFrom, Emergence, EmergenceState, Known, forecast, need_of};
use proptest::prelude::*;

use crate::{date, day, known, q};

const K: Coefficients = Coefficients::STANDARD;

fn inches(depth: f64) -> Length {
    q(depth, "[in_i]")
}

fn corn() -> Conditions {
    Conditions::of(Crop::Corn)
}

fn steady(first: &str, days: usize) -> Known {
    known(first, &vec![Some((80.0, 55.0)); days])
}

/// Purdue University Field Guide, 2016, and its method: 115 degree days at 17.5 a day are 6.57 days,
/// so corn is up on the 7th day after planting.
#[test]
fn steady_days_of_17_5_bring_corn_up_on_the_seventh_day() {
    let planted = date("2027-05-01");
    let need = need_of(&corn(), inches(2.0), planted, &K);
    assert!((need.likely - 115.0).abs() < 1e-9);
    let it = forecast(&need, &steady("2027-05-02", 30), (planted, date("2027-05-10")), 0);
    assert_eq!(it.likely, Some(date("2027-05-08")));
    assert_eq!(it.earliest, Some(date("2027-05-07")), "90 at 17.5 a day");
    assert_eq!(it.latest, Some(date("2027-05-09")), "125 at 17.5 a day");
    assert_eq!(it.state, EmergenceState::Up);
    assert_eq!((it.count.from, it.count.to), (date("2027-05-22"), date("2027-05-29")));
    assert!(it.count.by_temperature);
    let planted_in_bed = it.heat.days.first().unwrap();
    assert_eq!(planted_in_bed.date, date("2027-05-02"), "the day of planting does not count");
}

/// Lauer 2003: 15 for the third inch, 30 in a dry seed zone, 30 to 60 in fine soil.
#[test]
fn depth_moisture_and_texture_move_the_need() {
    let seen =
        Conditions { moisture: Some(Moisture::Dry), texture: Some(TextureClass::Clay), ..corn() };
    let need = need_of(&seen, inches(3.0), date("2027-05-01"), &K);
    assert!((need.low - (90.0 + 15.0 + 30.0 + 30.0)).abs() < 1e-9);
    assert!((need.likely - (115.0 + 15.0 + 30.0 + 45.0)).abs() < 1e-9);
    assert!((need.high - (125.0 + 15.0 + 30.0 + 60.0)).abs() < 1e-9);
    assert_eq!(need.because.len(), 3);
}

#[test]
fn what_is_from_memory_says_so() {
    for (planted, low, high) in [("2027-04-10", 100.0, 150.0), ("2027-05-20", 20.0, 75.0)] {
        let need = need_of(&corn(), inches(2.0), date(planted), &K);
        assert!((need.low - low).abs() < 1e-9 && (need.high - high).abs() < 1e-9, "{planted}");
        assert!(need.because.iter().any(|it| it.mark == Mark::FromMemory), "{planted}");
    }
    let soybean = need_of(&Conditions::of(Crop::Soybean), inches(1.5), date("2027-04-10"), &K);
    assert!((soybean.likely - 145.0).abs() < 1e-9, "the corrections are for corn");
}

#[test]
fn a_missing_day_widens_the_range_and_hides_the_likely_day() {
    let planted = date("2027-05-01");
    let need = need_of(&corn(), inches(2.0), planted, &K);
    let mut days = vec![Some((80.0, 55.0)); 30];
    days[2] = None;
    let gap = known("2027-05-02", &days);
    let it = forecast(&need, &gap, (planted, date("2027-05-30")), 0);
    assert_eq!(it.likely, None);
    assert_eq!(it.earliest, Some(date("2027-05-06")), "36 on the missing day");
    assert_eq!(it.latest, Some(date("2027-05-10")), "nothing on the missing day");
    assert_eq!(it.heat.missing, [date("2027-05-04")]);
    assert_eq!(it.count.from, date("2027-05-20"), "two weeks after the first");
    assert_eq!(it.count.to, date("2027-05-31"), "three after the last");
    let filled = forecast(&need, &gap, (planted, date("2027-05-30")), 1);
    assert_eq!(filled.likely, Some(date("2027-05-08")));
}

#[test]
fn what_is_expected_makes_no_plant_come_up() {
    let planted = date("2027-05-01");
    let need = need_of(&corn(), inches(2.0), planted, &K);
    let mut days = steady("2027-05-02", 3);
    for date in date("2027-05-05").iter_days().take(20) {
        days.insert(date, (day(80.0, 55.0), DayFrom::Expected));
    }
    let it = forecast(&need, &days, (planted, date("2027-05-20")), 0);
    assert_eq!(it.state, EmergenceState::NotYet);
    assert!((it.so_far - 52.5).abs() < 1e-9);
    assert_eq!(it.likely, Some(date("2027-05-08")), "but the forecast goes on with it");
}

#[test]
fn without_temperatures_the_count_goes_by_the_usual_days() {
    let planted = date("2027-05-01");
    let need = need_of(&corn(), inches(2.0), planted, &K);
    let it = forecast(&need, &Known::new(), (planted, date("2027-05-20")), 0);
    assert_eq!((it.earliest, it.likely, it.latest), (None, None, None));
    assert!(!it.count.by_temperature);
    assert_eq!((it.count.from, it.count.to), (date("2027-05-28"), date("2027-06-04")));
}

fn any_days() -> impl Strategy<Value = Vec<Option<(f64, f64)>>> {
    let one = prop::option::weighted(0.9, (20.0..90.0_f64, 0.0..40.0_f64));
    let one = one.prop_map(|it| it.map(|(low, more)| (low + more, low)));
    prop::collection::vec(one, 0..80)
}

fn any_need() -> impl Strategy<Value = Emergence> {
    (1.0..150.0_f64, 0.0..80.0_f64, 0.0..80.0_f64).prop_map(|(low, more, most)| Emergence {
        low,
        likely: low + more,
        high: low + more + most,
        because: Vec::new(),
        steps: Vec::new(),
    })
}

proptest! {
    /// First, likely and last day stand in this order, all after planting.
    #[test]
    fn the_days_stand_in_order(days in any_days(), need in any_need(), fill in 0_u8..=5) {
        let planted = date("2027-04-20");
        let days = known("2027-04-21", &days);
        let it = forecast(&need, &days, (planted, date("2027-06-20")), fill);
        let list: Vec<_> = [it.earliest, it.likely, it.latest].into_iter().flatten().collect();
        prop_assert!(list.is_sorted(), "{:?}", list);
        prop_assert!(list.iter().all(|day| *day > planted));
        prop_assert!(it.count.from <= it.count.to);
        prop_assert!(it.count.from >= planted + Days::new(14));
        if it.latest.is_some() {
            prop_assert!(it.earliest.is_some());
        }
    }

    /// A warmer season never brings a crop up later.
    #[test]
    fn warmth_never_delays(days in any_days(), need in any_need(), warmer in 0.0..15.0_f64) {
        let planted = date("2027-04-20");
        let span = (planted, date("2027-06-20"));
        let warm: Vec<_> =
            days.iter().map(|it| it.map(|(high, low)| (high + warmer, low + warmer))).collect();
        let cold = forecast(&need, &known("2027-04-21", &days), span, 0);
        let warm = forecast(&need, &known("2027-04-21", &warm), span, 0);
        for (cold, warm) in
            [(cold.earliest, warm.earliest), (cold.likely, warm.likely), (cold.latest, warm.latest)]
        {
            if let Some(cold) = cold {
                prop_assert!(warm.is_some_and(|warm| warm <= cold), "{:?} {}", warm, cold);
            }
        }
    }

    /// Deeper seed never takes less.
    #[test]
    fn depth_never_saves_heat(depth in 0.5..4.0_f64, deeper in 0.0..2.0_f64) {
        let planted = date("2027-05-01");
        let shallow = need_of(&corn(), inches(depth), planted, &K);
        let deep = need_of(&corn(), inches(depth + deeper), planted, &K);
        prop_assert!(deep.low >= shallow.low && deep.high >= shallow.high);
        prop_assert!(deep.low <= deep.likely && deep.likely <= deep.high);
    }
}
