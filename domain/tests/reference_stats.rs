//! Published and derived check values for the statistics of a dig (`data/statistics.csv`).
//!
//! Each line is handled or the test fails; a line that rests on memory or assumption is refused.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a broken data file must fail loudly"
)]

mod cases;
mod digs;

use std::collections::HashMap;
use std::path::PathBuf;

use cases::q;
use digs::{K, good, good_row, in_inches, inches};
use domain::conditions::Crop;
use domain::dig::{Statistics, Wanted, statistics};
use domain::stats::{Usual, apart, count, holm, mean, sd, sd_limits, t_critical};
use serde::Deserialize;

#[derive(Debug, Deserialize)]
struct Row {
    id: String,
    topic: String,
    inputs: String,
    expected: String,
    tolerance: String,
    source: String,
    mark: String,
}

/// Nothing is known before the readings.
const NONE: Usual = Usual { grain: 0.0, between: 0.0 };

type Got = Vec<(&'static str, Vec<f64>)>;

impl Row {
    fn text(&self, key: &str) -> &str {
        pairs(&self.inputs).remove(key).unwrap_or_else(|| panic!("{}: no input {key}", self.id))
    }

    fn list(&self, key: &str) -> Vec<f64> {
        self.text(key).split('|').map(|v| v.parse().unwrap()).collect()
    }

    fn num(&self, key: &str) -> f64 {
        self.list(key)[0]
    }
}

fn pairs(text: &str) -> HashMap<&str, &str> {
    text.split(';').filter_map(|p| p.trim().split_once('=')).collect()
}

fn file(name: &str) -> csv::Reader<std::fs::File> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name);
    csv::Reader::from_path(path).unwrap()
}

/// The last column of a file, grouped by its first.
fn groups(name: &str) -> Vec<Vec<f64>> {
    let mut found: Vec<(String, Vec<f64>)> = Vec::new();
    for line in file(name).records().map(Result::unwrap) {
        let value: f64 = line.iter().next_back().unwrap().parse().unwrap();
        match found.last_mut() {
            Some((key, values)) if *key == line[0] => values.push(value),
            _ => found.push((line[0].to_owned(), vec![value])),
        }
    }
    found.into_iter().map(|(_, values)| values).collect()
}

fn bonferroni(row: &Row) -> Got {
    let p = row.list("p");
    let tests = count(p.len());
    // Holm rejects at least what Bonferroni rejects, and here no more.
    let adjusted = holm(&p);
    let by_holm = adjusted.iter().filter(|p| **p < 0.05).count();
    let by_bonferroni = p.iter().filter(|p| *p * tests < 0.05).count();
    assert_eq!(by_holm, by_bonferroni);
    vec![("rejected_by_bonferroni", vec![count(by_holm)])]
}

/// Grubbs' statistic of the last value, from the comparison of one row against the rest.
fn outlier(row: &Row) -> Got {
    let values = row.list("values");
    let singles: Vec<Vec<f64>> = values.iter().map(|v| vec![*v]).collect();
    let (rest, own) = singles.split_at(values.len() - 1);
    let p = apart(own, rest, NONE).unwrap().p;
    let n = count(values.len());
    let g = grubbs(t_critical(p, n - 2.0).unwrap(), n);
    // One-sided: the whole of alpha lies above.
    let critical = grubbs(t_critical(2.0 * row.num("alpha") / n, n - 2.0).unwrap(), n);
    vec![
        ("mean", vec![mean(&values).unwrap()]),
        ("sd", vec![sd(&values).unwrap()]),
        ("g", vec![g]),
        ("critical", vec![critical]),
    ]
}

/// The distance in standard deviations that belongs to a t of one value against the rest.
fn grubbs(t: f64, n: f64) -> f64 {
    (n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt()
}

fn outlier_critical(row: &Row) -> Got {
    let alpha = row.num("alpha");
    let critical = |n: f64| grubbs(t_critical(alpha / n, n - 2.0).unwrap(), n);
    vec![("two_sided", row.list("n").into_iter().map(critical).collect())]
}

fn wanted() -> Wanted {
    Wanted {
        depth: q(2.0, "[in_i]"),
        tolerance: q(0.25, "[in_i]"),
        spacing: Some(q(8.0, "[in_i]")),
        row_width: q(30.0, "[in_i]"),
        rows: 8,
        crop: Crop::Corn,
    }
}

fn stats_of(depths: &[Vec<f64>], spacings: &[f64]) -> Statistics {
    let setup = good().with(|s| {
        s.rows = (1..).zip(depths).map(|(row, _)| good_row(row)).collect();
        for (row, depths) in s.rows.iter_mut().zip(depths) {
            row.outer = false;
            row.behind_tyre = false;
            row.seed_depths = inches(depths);
            row.spacings = Vec::new();
            row.stretch = None;
        }
        s.rows[0].spacings = inches(spacings);
    });
    statistics(&setup.dig(), &wanted(), &K)
}

fn dig_of_rows(row: &Row) -> Got {
    let moved = |v: &f64| (v + row.num("add")) / row.num("divide_by");
    let rows: Vec<Vec<f64>> =
        groups(row.text("file")).iter().map(|g| g.iter().map(moved).collect()).collect();
    let depth = stats_of(&rows, &[]).depth.unwrap();
    assert!(depth.set_aside.is_empty(), "{}: {:?}", row.id, depth.set_aside);
    let half = in_inches(depth.planter.high.unwrap() - depth.planter.mean);
    let t = t_critical(0.05, f64::from(depth.planter.rows) - 1.0).unwrap();
    vec![
        ("mean", vec![in_inches(depth.planter.mean)]),
        ("s_b", vec![in_inches(depth.spread.between.unwrap())]),
        ("s_w", vec![in_inches(depth.spread.within.unwrap())]),
        ("icc", vec![depth.spread.intraclass.unwrap()]),
        ("icc_low", vec![depth.spread.intraclass_low.unwrap()]),
        ("icc_high", vec![depth.spread.intraclass_high.unwrap()]),
        ("worth", vec![depth.within.worth]),
        ("se", vec![half / t]),
        ("set_to_zero", vec![f64::from(u8::from(depth.spread.between_set_to_zero))]),
    ]
}

fn spacings(row: &Row) -> Got {
    let all: Vec<f64> = groups(row.text("file")).into_iter().flatten().collect();
    let spacing = stats_of(&[vec![2.0]], &all).spacing.unwrap();
    let against = spacing.against.unwrap();
    assert!((in_inches(against.wanted) - row.num("x_ref")).abs() < 1e-9);
    let r = against.regions.unwrap();
    let counts = [r.multiples, r.singles, r.one_skip, r.two_skips, r.more_skips];
    vec![
        ("counts_i_to_v", counts.map(f64::from).to_vec()),
        ("multiples_pct", vec![100.0 * against.multiples.share]),
        ("quality_of_feed_pct", vec![100.0 * against.singles.share]),
        ("miss_pct", vec![100.0 * against.skips.share]),
        ("singles_mean", vec![in_inches(against.singles_mean.unwrap())]),
        ("singles_sd", vec![in_inches(against.singles_sd.unwrap())]),
        ("c_over_x_ref_pct", vec![100.0 * against.precision_over_wanted.unwrap()]),
        ("c_over_region_mean_pct", vec![100.0 * against.precision_over_mean.unwrap()]),
        ("mean", vec![in_inches(spacing.mean)]),
        ("sd", vec![in_inches(spacing.sd.unwrap())]),
        ("cv_pct", vec![100.0 * spacing.cv.unwrap()]),
    ]
}

/// Readings with this variance and a mean of 2: half of them above it, half below, one on it.
fn with_variance(variance: f64, readings: usize) -> Vec<f64> {
    let pairs = readings / 2;
    let off = (variance * (count(readings) - 1.0) / count(2 * pairs)).sqrt();
    let mut all = [vec![2.0 - off; pairs], vec![2.0 + off; pairs]].concat();
    all.resize(readings, 2.0);
    all
}

/// The chance that a dig shows for a row whose variance is this share of the sum of all variances.
fn scatter_critical(row: &Row) -> Got {
    let mut chances = Vec::new();
    for ((k, n), c) in row.list("k").into_iter().zip(row.list("n")).zip(row.list("c")) {
        let usual = 0.02;
        let (rows, n) = (format!("{k}").parse().unwrap(), format!("{n}").parse().unwrap());
        let mut depths = vec![with_variance(usual, n); rows];
        depths[0] = with_variance(usual * (k - 1.0) * c / (1.0 - c), n);
        let depth = stats_of(&depths, &[]).depth.unwrap();
        chances.push(depth.rows[0].scatter_p.unwrap());
        assert!(depth.rows[1..].iter().all(|r| r.scatter_p.unwrap() > 0.9), "{}", row.id);
    }
    vec![("p", chances)]
}

/// Cochran's C from the spreads that a dig shows; it lies far beyond the critical value of T-x07
/// for three rows of ten, so the row has to be found.
fn scatter_of_rows(row: &Row) -> Got {
    // Variances stay what they are when all readings move into the range of depths.
    let moved = |g: Vec<f64>| g.into_iter().map(|v| v + row.num("add")).collect();
    let rows: Vec<Vec<f64>> = groups(row.text("file")).into_iter().map(moved).collect();
    let depth = stats_of(&rows, &[]).depth.unwrap();
    let variances: Vec<f64> = depth.rows.iter().map(|r| in_inches(r.sd.unwrap()).powi(2)).collect();
    let most = variances.iter().copied().fold(0.0, f64::max);
    let found: Vec<bool> = depth.rows.iter().map(|r| r.scatter_p.unwrap() < 0.001).collect();
    assert_eq!(found, variances.iter().map(|v| *v >= most).collect::<Vec<_>>());
    vec![("cochran_c", vec![most / variances.iter().sum::<f64>()])]
}

fn spread_limits(row: &Row) -> Got {
    let (low, high) = sd_limits(row.num("sd"), row.num("df"), row.num("confidence")).unwrap();
    vec![("low", vec![low]), ("high", vec![high])]
}

fn spread_limits_share(row: &Row) -> Got {
    let df = row.num("readings") - 1.0;
    let (low, high) = sd_limits(1.0, df, row.num("confidence")).unwrap();
    vec![("half_width_pct", vec![100.0 * (high - low) / 2.0])]
}

fn dig_of_shares(row: &Row) -> Got {
    let depths = row.list("depths");
    let rows: u8 = row.text("rows").parse().unwrap();
    let depth = stats_of(&vec![depths; usize::from(rows)], &[]).depth.unwrap();
    vec![
        ("share", vec![depth.within.share]),
        ("low", vec![depth.within.low]),
        ("high", vec![depth.within.high]),
    ]
}

fn ask(row: &Row) -> Got {
    match row.topic.as_str() {
        "bonferroni" => bonferroni(row),
        "outlier" => outlier(row),
        "outlier_critical" => outlier_critical(row),
        "dig_of_rows" => dig_of_rows(row),
        "spacings" => spacings(row),
        "scatter_critical" => scatter_critical(row),
        "scatter_of_rows" => scatter_of_rows(row),
        "spread_limits" => spread_limits(row),
        "spread_limits_share" => spread_limits_share(row),
        "dig_of_shares" => dig_of_shares(row),
        other => panic!("{}: nobody handles {other:?}", row.id),
    }
}

fn allowed(printed: &str, tolerance: &str) -> f64 {
    match tolerance.split_once(':') {
        Some(("abs", x)) => x.parse().unwrap(),
        _ if tolerance == "exact" => 1e-9,
        // One unit of the last printed place.
        _ if tolerance == "digits" => {
            let decimals = printed.split_once('.').map_or(0, |(_, d)| d.len());
            10_f64.powi(-i32::try_from(decimals).unwrap())
        }
        _ => panic!("tolerance {tolerance:?}"),
    }
}

#[test]
fn every_line_agrees() {
    let rows: Vec<Row> = file("statistics.csv").deserialize().map(Result::unwrap).collect();
    let mut checked = 0;
    for row in &rows {
        assert!(matches!(row.mark.as_str(), "read" | "derived"), "{}: {}", row.id, row.mark);
        assert!(!row.source.is_empty(), "{} has no source", row.id);
        let got: HashMap<&str, Vec<f64>> = ask(row).into_iter().collect();
        for (key, printed) in pairs(&row.expected) {
            let values = got.get(key).unwrap_or_else(|| panic!("{}: no {key}", row.id));
            let cells: Vec<&str> = printed.split('|').collect();
            assert_eq!(cells.len(), values.len(), "{}: {key}", row.id);
            for (cell, value) in cells.iter().zip(values) {
                let expected: f64 = cell.parse().unwrap();
                let off = (value - expected).abs();
                let most = allowed(cell, &row.tolerance) * (1.0 + 1e-9);
                assert!(off <= most, "{} {key}: {value}, expected {cell} ({})", row.id, row.source);
                checked += 1;
            }
        }
    }
    assert_eq!((rows.len(), checked), (12, 51));
}
