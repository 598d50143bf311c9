//! Sums of degree days.

use chrono::Days;
use domain::stand::{DayFrom, heat, with_normal};
use proptest::prelude::*;

use crate::{date, day, known};

/// Calculating growing degree days, county newspaper column, Wisconsin, 2018: 25.5, 11 and 6.5 sum
/// to 43.
#[test]
fn three_days_of_a_newspaper_sum_to_43() {
    let days = known("2027-05-01", &[Some((90.0, 65.0)), Some((72.0, 46.0)), Some((63.0, 42.0))]);
    let found = heat(&days, (date("2027-05-01"), date("2027-05-03")), 0);
    assert!((found.sum() - 43.0).abs() < 1e-9);
    let each: Vec<f64> = found.days.iter().map(|it| it.degree_days).collect();
    assert!(each.iter().zip([25.5, 11.0, 6.5]).all(|(a, b)| (a - b).abs() < 1e-9), "{each:?}");
    assert!(found.missing.is_empty());
    assert!((found.most() - 43.0).abs() < 1e-9);
}

#[test]
fn a_missing_day_is_named_and_filled_only_when_asked() {
    let days = known("2027-05-01", &[Some((80.0, 60.0)), None, Some((60.0, 50.0)), None, None]);
    let span = (date("2027-05-01"), date("2027-05-05"));
    let plain = heat(&days, span, 0);
    let missing = ["2027-05-02", "2027-05-04", "2027-05-05"].map(date);
    assert_eq!(plain.missing, missing);
    assert!((plain.sum() - 25.0).abs() < 1e-9);
    assert!((plain.most() - (25.0 + 3.0 * 36.0)).abs() < 1e-9);

    let filled = heat(&days, span, 1);
    assert_eq!(filled.missing, missing[1..], "a gap at the end has no day beyond it");
    let second = filled.days[1];
    assert_eq!((second.date, second.from), (missing[0], DayFrom::Filled));
    assert!((second.degree_days - 12.5).abs() < 1e-9, "the mean of 70 and 55 less 50");
    assert!((filled.sum() - 37.5).abs() < 1e-9);
}

#[test]
fn a_gap_that_is_longer_than_asked_stays_open() {
    let days = known("2027-05-01", &[Some((80.0, 60.0)), None, None, Some((60.0, 50.0))]);
    let span = (date("2027-05-01"), date("2027-05-04"));
    assert_eq!(heat(&days, span, 1).missing.len(), 2);
    assert!(heat(&days, span, 2).missing.is_empty());
}

#[test]
fn a_normal_day_follows_the_last_known_one_and_fills_no_gap() {
    let days = known("2027-05-01", &[Some((80.0, 60.0)), None, Some((60.0, 50.0))]);
    let (first, last) = (date("2027-05-01"), date("2027-05-06"));
    let whole = with_normal(days, day(70.0, 50.0), (first, last));
    let found = heat(&whole, (first, last), 0);
    assert_eq!(found.missing, [date("2027-05-02")]);
    let normal: Vec<_> = found.days.iter().filter(|it| it.from == DayFrom::Normal).collect();
    assert_eq!(normal.len(), 3);
    assert_eq!(normal[0].date, date("2027-05-04"));
}

fn any_days() -> impl Strategy<Value = Vec<Option<(f64, f64)>>> {
    let one = prop::option::weighted(0.8, (-20.0..110.0_f64, 0.0..40.0_f64));
    let one = one.prop_map(|it| it.map(|(low, more)| (low + more, low)));
    prop::collection::vec(one, 1..60)
}

proptest! {
    /// Every day of the span is either there or named as missing, once.
    #[test]
    fn no_day_is_lost(days in any_days(), fill in 0_u8..=5) {
        let first = date("2027-04-01");
        let last = first + Days::new(u64::try_from(days.len()).unwrap() - 1);
        let found = heat(&known("2027-04-01", &days), (first, last), fill);
        let mut all: Vec<_> = found.days.iter().map(|it| it.date).collect();
        all.extend(&found.missing);
        all.sort_unstable();
        let whole: Vec<_> = first.iter_days().take(days.len()).collect();
        prop_assert_eq!(all, whole);
    }

    /// A day brings 0 to 36, the sum never falls, and it is the sum of its days.
    #[test]
    fn the_sum_is_that_of_its_days(days in any_days(), fill in 0_u8..=5) {
        let first = date("2027-04-01");
        let found = heat(&known("2027-04-01", &days), (first, first + Days::new(80)), fill);
        let mut sum = 0.0;
        for it in &found.days {
            prop_assert!((0.0..=36.0).contains(&it.degree_days));
            sum += it.degree_days;
            prop_assert!((it.sum - sum).abs() < 1e-9);
        }
        prop_assert!((found.sum() - sum).abs() < 1e-9);
        prop_assert!(found.most() >= found.sum());
    }

    /// Filling adds heat and days, takes none away, and stays within what the missing days can bring.
    #[test]
    fn filling_stays_within_what_is_possible(days in any_days(), fill in 1_u8..=5) {
        let first = date("2027-04-01");
        let span = (first, first + Days::new(70));
        let known = known("2027-04-01", &days);
        let (plain, filled) = (heat(&known, span, 0), heat(&known, span, fill));
        prop_assert!(filled.sum() >= plain.sum() - 1e-9);
        prop_assert!(filled.most() <= plain.most() + 1e-9);
        prop_assert!(filled.missing.len() <= plain.missing.len());
    }
}
