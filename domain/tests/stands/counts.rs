//! What counts say.

use domain::conditions::Crop;
use domain::quantity::{ArealNumberDensity, Length, Measured};
use domain::stand::{
    CountMethod, Counted, Patch, StandObservation, StandUnits, counts_for_a_tenth, counts_wanted,
    gaps, population, stand_found, uneven,
};
use domain::stats::mean_limits;
use proptest::prelude::*;

use crate::q;

fn per_acre(stand: ArealNumberDensity) -> f64 {
    stand.si() * 4_046.872_609_874_252
}

fn feet(lengths: &[f64]) -> Vec<Length> {
    lengths.iter().map(|it| q(*it, "[ft_i]")).collect()
}

fn row(place: u16, plants: u32, length: f64) -> Counted {
    let row = Some(q(length, "[ft_i]"));
    Counted { place, plants, row, gaps: None, positions: None, late: None }
}

fn seen(method: CountMethod, counts: Vec<Counted>) -> StandObservation {
    StandObservation {
        crop: Crop::Corn,
        method,
        row_width: q(30.0, "[in_i]"),
        hoop: None,
        seeds: Some(q(34_000.0, "1/[acr_us]")),
        days_late: None,
        counts,
    }
}

/// University of Illinois (method) and arithmetic: 150 plants in 94 ft of 30 in rows are 27,804.
#[test]
fn one_walk_of_the_wheel_is_the_published_stand() {
    let found = stand_found(&seen(CountMethod::Wheel, vec![row(1, 150, 94.0)])).unwrap();
    assert!((per_acre(found.population.stand) - 27_804.0).abs() < 1.0);
    assert!(found.population.limits.is_none(), "one count can't say how sure it is");
    assert_eq!(found.counts_for_a_tenth, None);
}

/// Geometry: 18 plants in a hoop of 30 in are 159,731.5 an acre.
#[test]
fn a_hoop_is_its_area() {
    let throw = Counted { row: None, ..row(1, 18, 1.0) };
    let hoop = StandObservation {
        hoop: Some(q(30.0, "[in_i]")),
        crop: Crop::Soybean,
        ..seen(CountMethod::Hoop, vec![throw])
    };
    let found = stand_found(&hoop).unwrap();
    // The survey acre of the service is 4 parts in a million larger than that of the source.
    assert!((per_acre(found.population.stand) - 159_731.5).abs() < 1.0);
}

/// Worked by hand: 31, 29 and 32 plants in a thousandth of an acre at three places. Mean 30.667, sd
/// 1.5275, t(0.975, 2) = 4.30265: half width 3.7946 thousand.
#[test]
fn three_places_give_the_interval_of_three_places() {
    let counts = [(1, 31), (2, 29), (3, 32)].map(|(place, n)| row(place, n, 17.424));
    let found = stand_found(&seen(CountMethod::RowLength, counts.to_vec())).unwrap();
    let (low, high) = found.population.limits.unwrap();
    assert_eq!((found.population.units, found.population.unit_count), (StandUnits::Places, 3));
    assert!((per_acre(found.population.stand) - 30_666.67).abs() < 1.0);
    assert!((per_acre(low) - (30_666.67 - 3_794.6)).abs() < 2.0, "{}", per_acre(low));
    assert!((per_acre(high) - (30_666.67 + 3_794.6)).abs() < 2.0, "{}", per_acre(high));
    let emergence = found.emergence.unwrap();
    assert!((emergence.value - 100.0 * 30_666.67 / 34_000.0).abs() < 0.01);
    assert_eq!(found.population.places.len(), 3);
}

#[test]
fn counts_of_one_place_speak_for_that_place() {
    let counts = [31, 29, 32].map(|n| row(1, n, 17.424));
    let found = stand_found(&seen(CountMethod::RowLength, counts.to_vec())).unwrap();
    assert_eq!(found.population.units, StandUnits::Counts);
    assert_eq!(found.population.unit_count, 3);
    assert_eq!(found.population.places.len(), 1);
}

/// Iowa State University, ICM, 29 April 1994: 2 % for 1 to 3 ft, 5 to 6 % for many of 4 to 6 ft.
#[test]
fn gaps_of_corn_go_by_the_iowa_rule() {
    let whole = q(100.0, "[ft_i]");
    let loss = |lengths: &[f64]| {
        let it = gaps(Crop::Corn, &feet(lengths), whole).unwrap();
        (it.count, it.long, it.loss_low, it.loss_high)
    };
    assert_eq!(loss(&[]), (0, 0, Some(0.0), Some(0.0)));
    assert_eq!(loss(&[0.5, 0.9]), (0, 0, Some(0.0), Some(0.0)));
    assert_eq!(loss(&[1.0, 3.0]), (2, 0, Some(0.0), Some(2.0)));
    assert_eq!(loss(&[4.0, 6.0, 2.0]), (3, 2, Some(2.0), Some(6.0)));
}

/// Iowa State University, ICM, 24 May 1999: neighbours fill gaps up to 2 ft; above that yield is
/// likely lost, and no figure is published.
#[test]
fn gaps_of_soybean_count_above_two_feet_and_have_no_figure() {
    let whole = q(100.0, "[ft_i]");
    let it = gaps(Crop::Soybean, &feet(&[2.0, 1.0]), whole).unwrap();
    assert_eq!((it.count, it.loss_high), (0, Some(0.0)));
    let it = gaps(Crop::Soybean, &feet(&[2.5, 2.0]), whole).unwrap();
    assert_eq!((it.count, it.loss_low, it.loss_high), (1, None, None));
    assert!((it.share - 0.025).abs() < 1e-9);
}

#[test]
fn published_cases_of_late_plants_come_back_as_published() {
    for (share, days, low, high) in [
        (0.25, 21.0, 10.0, 10.0),
        (0.5, 7.0, 5.0, 5.0),
        (0.5, 14.0, 12.0, 12.0),
        (0.5, 21.0, 20.0, 22.0),
        (1.0 / 6.0, 12.0, 4.0, 5.0),
        (1.0 / 6.0, 21.0, 8.0, 8.0),
    ] {
        let it = uneven(share, days).unwrap();
        assert!((it.low - low).abs() < 1e-9, "{share} {days}: {it:?}");
        assert!(it.high.is_some_and(|most| (most - high).abs() < 1e-9), "{share} {days}: {it:?}");
    }
}

/// Nemergut et al. 2021: plants within 3 days of the first neighbour yielded the same.
#[test]
fn three_days_do_not_matter_and_worse_than_all_has_no_end() {
    assert_eq!(uneven(0.9, 3.0).unwrap().high, Some(0.0));
    assert_eq!(uneven(0.9, 30.0).unwrap().high, None);
    assert!(uneven(1.2, 7.0).is_none());
}

/// North Carolina State University: 3, 5 and 7 counts up to 15, 30 and 50 ac; nothing beyond.
#[test]
fn the_counts_that_are_published_follow_the_area() {
    let least = |acres: f64| -> Vec<u32> {
        let area = Some(q(acres, "[acr_us]"));
        let all = counts_wanted(Crop::Corn, CountMethod::RowLength, area);
        all.iter().map(|it| it.least).collect()
    };
    assert_eq!(least(12.0), [5, 3]);
    assert_eq!(least(16.0), [5, 5]);
    assert_eq!(least(40.0), [5, 7]);
    assert_eq!(least(120.0), [5], "nothing is published above 50 ac");
    let walks = counts_wanted(Crop::Soybean, CountMethod::Wheel, Some(q(80.0, "[acr_us]")));
    assert_eq!((walks[0].least, walks[0].most), (8, 16), "one for each 5 to 10 ac");
}

/// The reference table of sample sizes: a variation of 10, 15 and 20 % needs 7, 12 and 18 counts for
/// a tenth.
#[test]
fn counts_for_a_tenth_are_those_of_the_table() {
    for (cv, counts) in [(0.10, 7), (0.15, 12), (0.20, 18)] {
        assert_eq!(counts_for_a_tenth(cv), Some(counts), "{cv}");
    }
}

#[test]
fn positions_give_spacing_and_gaps() {
    let spots = [0.0, 6.0, 12.0, 18.0, 34.0, 40.0, 43.0, 49.0].map(|x| q(x, "[in_i]"));
    let counted = Counted { positions: Some(spots.to_vec()), ..row(1, 8, 5.0) };
    let found = stand_found(&seen(CountMethod::RowLength, vec![counted])).unwrap();
    let spacing = found.spacing.unwrap();
    assert_eq!(spacing.spacings, 7);
    assert!((spacing.mean.si() / 0.0254 - 7.0).abs() < 1e-9);
    assert!(spacing.meant.is_some_and(|it| (it.si() / 0.0254 - 6.1496).abs() < 0.001));
    assert!(spacing.multiples_percent.is_some_and(|it| (it - 100.0 / 7.0).abs() < 1e-9));
    assert!(spacing.miss_percent.is_some_and(|it| (it - 100.0 / 7.0).abs() < 1e-9));
    let gaps = found.gaps.unwrap();
    assert_eq!(gaps.count, 1, "16 in without a plant is a gap of more than a foot");
}

fn any_counts() -> impl Strategy<Value = Vec<(u16, u32, f64)>> {
    prop::collection::vec((1_u16..=6, 0_u32..60, 5.0..60.0_f64), 1..20)
}

proptest! {
    /// With equal lengths the limits are those of the mean of groups, worked out in another way.
    #[test]
    fn equal_lengths_agree_with_the_limits_of_groups(
        counts in prop::collection::vec((1_u16..=5, 0_u32..60), 2..20)
    ) {
        let patches: Vec<Patch> = counts
            .iter()
            .map(|(place, n)| Patch { place: *place, plants: f64::from(*n), ground: 4.0 })
            .collect();
        let it = population(&patches).unwrap();
        prop_assume!(it.units == StandUnits::Places);
        let groups: Vec<Vec<f64>> = (1..=5)
            .map(|place| {
                let of_it = counts.iter().filter(|(at, _)| *at == place);
                of_it.map(|(_, n)| f64::from(*n) / 4.0).collect()
            })
            .collect();
        let (low, high) = mean_limits(&groups, 0.95).unwrap();
        let (a, b) = it.limits.unwrap();
        prop_assert!((a.si() - low.max(0.0)).abs() < 1e-9, "{} {}", a.si(), low);
        prop_assert!((b.si() - high).abs() < 1e-9, "{} {}", b.si(), high);
    }

    /// The stand is all plants over all ground, lies within its limits and among its places.
    #[test]
    fn the_stand_is_all_plants_over_all_ground(counts in any_counts()) {
        let list: Vec<_> = counts.iter().map(|(place, n, length)| row(*place, *n, *length)).collect();
        let found = stand_found(&seen(CountMethod::RowLength, list)).unwrap();
        let it = found.population;
        let plants: f64 = counts.iter().map(|(_, n, _)| f64::from(*n)).sum();
        let ground: f64 = counts.iter().map(|(_, _, l)| l * 0.3048 * 0.762).sum();
        prop_assert!((it.stand.si() - plants / ground).abs() < 1e-9);
        if let Some((low, high)) = it.limits {
            prop_assert!(low.si() >= 0.0);
            prop_assert!(low.si() <= it.stand.si() + 1e-9 && it.stand.si() <= high.si() + 1e-9);
        }
        let places: Vec<f64> = it.places.iter().map(|p| p.population.si()).collect();
        let (least, most) = places.iter().fold((f64::MAX, 0.0_f64), |(a, b), x| (a.min(*x), b.max(*x)));
        prop_assert!(least <= it.stand.si() + 1e-9 && it.stand.si() <= most + 1e-9);
        let all: u32 = it.places.iter().map(|p| p.counts).sum();
        prop_assert_eq!(usize::try_from(all).unwrap(), counts.len());
    }

    /// More gaps never lose less row, and the share stays one.
    #[test]
    fn more_gaps_lose_no_less(lengths in prop::collection::vec(0.0..8.0_f64, 0..12), more in 0.0..8.0_f64) {
        let whole = q(100.0, "[ft_i]");
        let few = gaps(Crop::Corn, &feet(&lengths), whole).unwrap();
        let mut longer = lengths;
        longer.push(more);
        let many = gaps(Crop::Corn, &feet(&longer), whole).unwrap();
        prop_assert!(many.lost >= few.lost && many.count >= few.count);
        prop_assert!(many.loss_high >= few.loss_high && many.loss_low >= few.loss_low);
        prop_assert!((0.0..=1.0).contains(&many.share));
    }

    /// More plants late, or later, never cost less; the ends stand in order.
    #[test]
    fn later_and_more_never_cost_less(
        share in 0.0..1.0_f64, days in 0.0..40.0_f64, more in 0.0..1.0_f64, later in 0.0..20.0_f64
    ) {
        let mild = uneven(share, days).unwrap();
        let worse = uneven((share + more).min(1.0), days + later).unwrap();
        prop_assert!(worse.low >= mild.low);
        prop_assert!(worse.high.unwrap_or(f64::MAX) >= mild.high.unwrap_or(f64::MAX));
        prop_assert!(mild.high.is_none_or(|high| high >= mild.low));
    }
}
