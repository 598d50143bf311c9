//! Laws that the statistics of a dig keep, whatever was measured.
#![expect(clippy::unwrap_used, reason = "a test that meets the unexpected must fail loudly")]

mod cases;
mod digs;

use cases::q;
use digs::{K, in_inches, inches};
use domain::conditions::Crop;
use domain::dig::{
    DepthStatistics, Limits, LimitsOf, Observation, RowReading, Share, SpacingAgainst,
    SpacingStatistics, Statistics, Wanted, statistics,
};
use domain::quantity::{Length, Measured};
use domain::stats::{ComponentLimits, OneWay, f_point, mean, sd, sd_limits};
use proptest::collection::vec;
use proptest::prelude::*;

const MM: f64 = 25.4;

fn wanted() -> Wanted {
    Wanted {
        depth: q(2.0, "[in_i]"),
        tolerance: q(0.25, "[in_i]"),
        spacing: Some(q(6.5, "[in_i]")),
        row_width: q(30.0, "[in_i]"),
        rows: 24,
        crop: Crop::Corn,
    }
}

fn judged(rows: &[RowReading], wanted: &Wanted) -> Statistics {
    let settings = domain::dig::SettingsInUse::default();
    let dig = Observation::new(settings, rows.to_vec(), String::new(), 64).unwrap();
    statistics(&dig, wanted, &K)
}

fn row_of(row: usize, depths: &[f64], spacings: &[f64]) -> RowReading {
    RowReading {
        seed_depths: inches(depths),
        spacings: inches(spacings),
        ..RowReading::of(u16::try_from(row + 1).unwrap())
    }
}

fn of_depths(rows: &[Vec<f64>]) -> DepthStatistics {
    let rows: Vec<RowReading> =
        rows.iter().enumerate().map(|(i, depths)| row_of(i, depths, &[])).collect();
    judged(&rows, &wanted()).depth.unwrap()
}

fn of_spacings(rows: &[Vec<f64>]) -> SpacingStatistics {
    let rows: Vec<RowReading> =
        rows.iter().enumerate().map(|(i, spacings)| row_of(i, &[], spacings)).collect();
    judged(&rows, &wanted()).spacing.unwrap()
}

/// Depths as rulers read them, to an eighth of an inch; rows of two to seven seeds.
fn depth_rows() -> impl Strategy<Value = Vec<Vec<f64>>> {
    vec(vec(8..24_u8, 2..8).prop_map(|row| row.iter().map(|d| f64::from(*d) / 8.0).collect()), 2..9)
}

/// Spacings to a quarter of an inch: they meet the ends of the regions, 3.25, 9.75, 16.25, 22.75.
fn spacing_rows(rows: std::ops::Range<usize>) -> impl Strategy<Value = Vec<Vec<f64>>> {
    let spacing = prop_oneof![8 => 20..33_u8, 1 => 1..14_u8, 1 => 36..100_u8];
    vec(vec(spacing.prop_map(|s| f64::from(s) / 4.0), 1..25), rows)
}

fn ordered<T: PartialOrd>(low: Option<T>, mid: Option<T>, high: Option<T>) -> bool {
    match (low, mid, high) {
        (Some(low), Some(mid), Some(high)) => low <= mid && mid <= high,
        (None, _, None) => true,
        _ => false,
    }
}

fn holds<T: PartialOrd + Copy>(limits: Option<Limits<T>>, value: Option<T>) -> bool {
    ordered(limits.map(|l| l.low), value, limits.map(|l| l.high))
}

fn shares(of: &SpacingAgainst) -> [Share; 3] {
    [of.multiples, of.singles, of.skips]
}

fn indices_hold(of: &SpacingAgainst) -> bool {
    holds(of.precision_over_wanted_limits, of.precision_over_wanted)
        && holds(of.precision_over_mean_limits, of.precision_over_mean)
        && holds(of.population_off_limits, of.population_off)
        && shares(of).iter().all(|s| s.low <= s.share && s.share <= s.high && s.worth >= 1.0)
}

/// What does not depend on the unit: counts, shares and indices.
fn plain(of: &SpacingStatistics) -> Vec<f64> {
    let of_one = |a: &SpacingAgainst| {
        let r = a.regions.unwrap();
        let counts = [r.multiples, r.singles, r.one_skip, r.two_skips, r.more_skips].map(f64::from);
        let p = a.positions.map(|p| [p.multiples, p.singles, p.empty].map(f64::from));
        let s = shares(a).map(|s| [s.share, s.low, s.high, s.worth]);
        [counts.to_vec(), p.unwrap_or_default().to_vec(), s.concat()].concat()
    };
    let rows = of.rows.iter().filter_map(|r| r.against.as_ref()).flat_map(of_one);
    let faults = of.rows.iter().filter_map(|r| r.faults_p);
    of_one(of.against.as_ref().unwrap()).into_iter().chain(rows).chain(faults).collect()
}

proptest! {
    #![proptest_config(cases::law(300))]

    #[test]
    fn limits_of_depths_hold_their_estimates(rows in depth_rows()) {
        let depth = of_depths(&rows);
        let s = depth.spread;
        prop_assert!(ordered(s.between_low, s.between, s.between_high), "{s:?}");
        prop_assert!(ordered(s.within_low, s.within, s.within_high), "{s:?}");
        prop_assert!(ordered(s.total_low, s.total, s.total_high), "{s:?}");
        prop_assert!(ordered(s.intraclass_low, s.intraclass, s.intraclass_high)
            || s.within == Some(Length::from_si(0.0)), "{s:?}");
        prop_assert!(s.total >= s.within && s.total >= s.between);
        prop_assert!(depth.rows.iter().all(|r| r.scatter_p.is_none_or(|p| (0.0..=1.0).contains(&p))));
    }

    #[test]
    fn limits_of_spacings_hold_their_estimates(rows in spacing_rows(1..7)) {
        let found = of_spacings(&rows);
        prop_assert!(holds(found.mean_limits, Some(found.mean)));
        prop_assert!(holds(found.sd_limits, found.sd));
        prop_assert!(holds(found.cv_limits, found.cv));
        prop_assert!(holds(found.population_limits, found.population));
        prop_assert!(indices_hold(&found.against.unwrap()));
        for row in &found.rows {
            prop_assert!(holds(row.mean_limits, Some(row.mean)) && holds(row.sd_limits, row.sd));
            prop_assert!(row.against.is_none_or(|a| indices_hold(&a)));
            prop_assert_eq!(row.against.is_some(), row.spacings >= 10);
            prop_assert!(row.faults_p.is_none_or(|p| (0.0..=1.0).contains(&p)));
        }
        prop_assert_eq!(found.rows.iter().map(|r| r.spacings).sum::<u32>(), found.spacings);
    }

    #[test]
    fn every_spacing_is_in_one_region_and_every_seed_in_one_position(rows in spacing_rows(1..7)) {
        let found = of_spacings(&rows);
        let against = found.against.unwrap();
        let r = against.regions.unwrap();
        prop_assert_eq!(
            r.multiples + r.singles + r.one_skip + r.two_skips + r.more_skips,
            found.spacings
        );
        let all: f64 = shares(&against).iter().map(|s| s.share).sum();
        prop_assert!((all - 1.0).abs() < 1e-12);
        // Each spacing ends at a seed; a position with a multiple holds two of them.
        match against.positions {
            Some(p) => {
                prop_assert_eq!(p.singles + 2 * p.multiples, found.spacings);
                prop_assert_eq!(p.all(), p.singles + p.multiples + p.empty);
            }
            None => prop_assert!(2 * r.multiples > found.spacings),
        }
    }

    #[test]
    fn the_unit_of_a_spacing_changes_no_share_and_no_index(rows in spacing_rows(1..7)) {
        let us = of_spacings(&rows);
        let metric: Vec<RowReading> = rows
            .iter()
            .enumerate()
            .map(|(i, row)| RowReading {
                spacings: row.iter().map(|s| q(s * MM, "mm")).collect(),
                ..row_of(i, &[], &[])
            })
            .collect();
        let target = Wanted { spacing: Some(q(6.5 * MM, "mm")), ..wanted() };
        let si = judged(&metric, &target).spacing.unwrap();
        let (a, b) = (plain(&us), plain(&si));
        prop_assert_eq!(a.len(), b.len());
        for (a, b) in a.iter().zip(&b) {
            prop_assert!((a - b).abs() < 1e-9, "{a} {b}");
        }
    }

    #[test]
    fn spacings_twice_as_long_against_twice_the_wanted_say_the_same(rows in spacing_rows(1..7)) {
        let once = of_spacings(&rows);
        let double: Vec<RowReading> = rows
            .iter()
            .enumerate()
            .map(|(i, row)| row_of(i, &[], &row.iter().map(|s| 2.0 * s).collect::<Vec<_>>()))
            .collect();
        let target = Wanted { spacing: Some(q(13.0, "[in_i]")), ..wanted() };
        let twice = judged(&double, &target).spacing.unwrap();
        prop_assert_eq!(plain(&once), plain(&twice));
        prop_assert!((once.mean * 2.0 - twice.mean).si().abs() < 1e-9);
        let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() < 1e-9,
            (a, b) => a == b,
        };
        prop_assert!(near(once.cv, twice.cv));
        prop_assert!(near(once.cv_limits.map(|l| l.high), twice.cv_limits.map(|l| l.high)));
        let (a, b) = (once.against.unwrap(), twice.against.unwrap());
        prop_assert!(near(a.precision_over_wanted, b.precision_over_wanted));
        prop_assert!(near(a.population_off, b.population_off));
    }

    #[test]
    fn a_dig_of_one_row_says_of_it_what_the_row_says_of_itself(rows in spacing_rows(1..2)) {
        let found = of_spacings(&rows);
        let row = found.rows[0];
        prop_assert_eq!(found.limits_of, Some(LimitsOf::OneRow));
        prop_assert_eq!((found.mean, found.sd), (row.mean, row.sd));
        prop_assert_eq!((found.mean_limits, found.sd_limits), (row.mean_limits, row.sd_limits));
        prop_assert_eq!(found.meter_check, row.meter_check);
        prop_assert_eq!(row.faults_p, None, "there is no other row to compare with");
        if row.spacings >= 10 {
            prop_assert_eq!(found.against, row.against);
        }
    }

    #[test]
    fn rows_that_are_found_again_narrow_the_limits(rows in spacing_rows(2..5)) {
        let once = of_spacings(&rows);
        let again = of_spacings(&[rows.clone(), rows.clone()].concat());
        prop_assert_eq!(once.limits_of, Some(LimitsOf::Planter));
        prop_assert!((once.mean - again.mean).si().abs() < 1e-12);
        let width = |s: &SpacingStatistics| s.mean_limits.map(|l| (l.high - l.low).si()).unwrap();
        prop_assert!(width(&again) <= width(&once) + 1e-12);
        let depths: Vec<Vec<f64>> =
            rows.iter().map(|r| r.iter().map(|s| 1.0 + s / 25.0).collect()).collect();
        let (once, again) = (of_depths(&depths), of_depths(&[depths.clone(), depths].concat()));
        if once.set_aside.is_empty() && again.set_aside.is_empty() {
            let width = |d: &DepthStatistics| (d.planter.high.unwrap() - d.planter.low.unwrap()).si();
            prop_assert!(width(&again) <= width(&once) + 1e-12);
        }
    }

    #[test]
    fn a_constant_moves_the_mean_and_no_spread(rows in depth_rows(), by in 1..16_u8) {
        let by = f64::from(by) / 8.0;
        let deeper: Vec<Vec<f64>> =
            rows.iter().map(|r| r.iter().map(|d| d + by).collect()).collect();
        let (a, b) = (of_depths(&rows), of_depths(&deeper));
        prop_assert!((in_inches(b.mean - a.mean) - by).abs() < 1e-9);
        prop_assert!((in_inches(b.planter.mean - a.planter.mean) - by).abs() < 1e-9);
        let of = |d: &DepthStatistics| {
            let s = d.spread;
            let lengths = [s.between, s.between_low, s.between_high, s.within, s.within_low, s.total];
            let plain = [s.intraclass, s.intraclass_low, s.intraclass_high];
            let rows = d.rows.iter().map(|r| r.scatter_p).collect::<Vec<_>>();
            [lengths.map(|l| l.map(in_inches)).to_vec(), plain.to_vec(), rows].concat()
        };
        for (a, b) in of(&a).into_iter().zip(of(&b)) {
            prop_assert_eq!(a.is_some(), b.is_some());
            prop_assert!((a.unwrap_or(0.0) - b.unwrap_or(0.0)).abs() < 1e-6, "{a:?} {b:?}");
        }
    }

    #[test]
    fn rows_that_are_the_same_do_not_differ(row in vec(8..24_u8, 2..8), rows in 2..9_usize) {
        let row: Vec<f64> = row.iter().map(|d| f64::from(*d) / 8.0).collect();
        let varies = row.iter().any(|d| (d - row[0]).abs() > 1e-9);
        let s = of_depths(&vec![row; rows]).spread;
        prop_assert_eq!(s.between, Some(Length::from_si(0.0)));
        prop_assert_eq!(s.between_set_to_zero, varies, "a negative estimate is set to 0, and said");
        prop_assert_eq!(s.between_low, Some(Length::from_si(0.0)));
        prop_assert_eq!(s.intraclass, Some(0.0));
        prop_assert_eq!(s.intraclass_low, varies.then_some(0.0));
        prop_assert!(s.total.unwrap() - s.within.unwrap() == Length::from_si(0.0));
    }

    #[test]
    fn without_scatter_within_rows_the_limits_between_them_are_exact(
        means in vec(1.0..3.0_f64, 2..9), size in 2..6_usize,
    ) {
        let rows: Vec<Vec<f64>> = means.iter().map(|m| vec![*m; size]).collect();
        let found = ComponentLimits::of(&rows, 0.95).unwrap();
        let (low, high) =
            sd_limits(sd(&means).unwrap(), f64::from(u8::try_from(means.len()).unwrap()) - 1.0, 0.95)
                .unwrap();
        for ((a, b), exact) in [found.between, found.total].into_iter().zip([(low, high); 2]) {
            prop_assert!((a.sqrt() - exact.0).abs() < 1e-6 && (b.sqrt() - exact.1).abs() < 1e-6);
        }
        prop_assert_eq!(found.intraclass, None);
    }

    #[test]
    fn the_limits_between_rows_leave_zero_where_f_says_so(
        rows in vec(vec(0.0..1.0_f64, 5), 3..8), upper in any::<bool>(),
    ) {
        // Rows of one size, moved apart until F is exactly at its upper or lower 2.5 % point.
        let table = OneWay::of(&rows).unwrap();
        let tail = if upper { 0.975 } else { 0.025 };
        let point = f_point(tail, table.between_df(), table.within_df()).unwrap();
        let grand = table.grand_mean;
        let at = |f: f64| -> (f64, f64) {
            let factor = (f / table.f().unwrap()).sqrt();
            let moved: Vec<Vec<f64>> = rows
                .iter()
                .map(|r| {
                    let own = mean(r).unwrap();
                    r.iter().map(|x| x - own + grand + factor * (own - grand)).collect()
                })
                .collect();
            let found = ComponentLimits::of(&moved, 0.95).unwrap();
            let alike = found.intraclass.unwrap();
            if upper { (found.between.0, alike.0) } else { (found.between.1, alike.1) }
        };
        let scale = table.within_ms().unwrap();
        let (below, above) = (at(point * 0.99), at(point * 1.01));
        prop_assert!(below.0 <= 1e-9 * scale && below.1 <= 1e-9, "{below:?}");
        prop_assert!(above.0 > 1e-6 * scale && above.1 > 1e-6, "{above:?}");
    }
}

#[test]
fn spacings_that_are_all_the_same_have_no_spread_to_limit() {
    let found = of_spacings(&[vec![6.5; 12], vec![6.5; 12], vec![6.5; 12]]);
    assert_eq!((found.cv, found.sd_limits, found.cv_limits), (Some(0.0), None, None));
    let limits = found.mean_limits.unwrap();
    assert!((limits.high - limits.low).si().abs() < 1e-12);
    let against = found.against.unwrap();
    assert_eq!((against.precision_over_wanted_limits, against.singles.share), (None, 1.0));
}

#[test]
fn one_seed_a_row_tells_the_total_but_not_its_parts() {
    let s = of_depths(&[vec![1.75], vec![2.0], vec![2.25]]).spread;
    assert_eq!((s.between, s.within, s.intraclass), (None, None, None));
    assert!((in_inches(s.total.unwrap()) - 0.25).abs() < 1e-9);
    // Chi-square with two degrees of freedom: sqrt(-1 / ln 0.025) and sqrt(-1 / ln 0.975).
    assert!((in_inches(s.total_low.unwrap()) - 0.25 * 0.520_658_3).abs() < 1e-6);
    assert!((in_inches(s.total_high.unwrap()) - 0.25 * 6.284_734_7).abs() < 1e-5);
    let one = of_depths(&[vec![1.75, 2.0]]).spread;
    assert_eq!((one.between, one.total, one.intraclass), (None, None, None));
    assert!(one.within.is_some() && one.within_low.is_some());
}

/// Members that judgements stored by earlier engines do not have.
const NEW: [&str; 20] = [
    "between_low",
    "between_high",
    "total",
    "total_low",
    "total_high",
    "intraclass_low",
    "intraclass_high",
    "scatter_p",
    "mean_limits",
    "sd_limits",
    "cv",
    "cv_limits",
    "population_limits",
    "limits_of",
    "regions",
    "positions",
    "precision_over_wanted_limits",
    "precision_over_mean_limits",
    "population_off_limits",
    "faults_p",
];

fn without_new(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Object(members) => {
            members.retain(|name, _| !NEW.contains(&name.as_str()));
            members.values_mut().for_each(without_new);
        }
        serde_json::Value::Array(items) => items.iter_mut().for_each(without_new),
        _ => {}
    }
}

#[test]
fn statistics_stored_before_there_were_limits_stay_readable() {
    let rows = [row_of(0, &[1.75, 2.0, 2.0], &[6.5; 12]), row_of(1, &[2.0, 2.25, 2.0], &[7.0; 12])];
    let today = judged(&rows, &wanted());
    let mut stored = serde_json::to_value(&today).unwrap();
    stored["spacing"].as_object_mut().unwrap().remove("rows");
    without_new(&mut stored);
    let read: Statistics = serde_json::from_value(stored).unwrap();
    let (depth, spacing) = (read.depth.unwrap(), read.spacing.unwrap());
    let (new_depth, new_spacing) = (today.depth.unwrap(), today.spacing.unwrap());
    assert_eq!(depth.spread.between, new_depth.spread.between);
    assert_eq!((depth.spread.between_high, depth.rows[0].scatter_p), (None, None));
    assert_eq!((spacing.mean, spacing.sd), (new_spacing.mean, new_spacing.sd));
    assert_eq!((spacing.limits_of, spacing.rows.len()), (None, 0));
    assert_eq!(spacing.against.unwrap().regions, None);
}
