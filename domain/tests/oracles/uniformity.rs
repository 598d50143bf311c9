//! Rows about fields on which nothing was tried: how far yields scatter by themselves.

use domain::provenance::Coefficients;
use domain::stats::{mean, sd};

use crate::answer::Answer;
use crate::data::Table;
use crate::row::Row;

/// Scatter where nothing was tried.
pub(crate) fn scatter(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let cv = |values: &[f64]| 100.0 * sd(values).unwrap() / mean(values).unwrap();
    let Some(names) = row.text("experiment") else {
        let values: Vec<f64> = table.lines.iter().map(|l| table.num(l, "yield")).collect();
        return Answer::one("probable_error_pct", 0.67449 * cv(&values));
    };
    let all = table.groups("experiment", "yield");
    let of = |name: &str| cv(&all.iter().find(|(n, _)| n == name).unwrap().1);
    Answer::list("cv_pct", names.split('|').map(of))
}

/// What is said to be calculated from uniformity trials is.
#[test]
fn scatter_of_yield_follows_from_the_uniformity_trials() {
    let k = Coefficients::STANDARD;
    let corn = columns("trial_corn_grid_uniformity.csv");
    let soybean = columns("trial_soybean_rows_uniformity.csv");
    let cv = |values: &[f64]| 100.0 * sd(values).unwrap() / mean(values).unwrap();
    let all = |columns: &[Vec<f64>]| cv(&columns.concat());
    let means =
        |columns: &[Vec<f64>]| columns.iter().map(|c| mean(c).unwrap()).collect::<Vec<f64>>();
    let near = |a: f64, b: f64| assert!((a - b).abs() < 0.05, "{a}, not {b}");
    near(neighbours(&means(&corn)), k.trial_scatter_corn.low);
    near(all(&corn), k.trial_scatter_corn.value);
    near(neighbours(&means(&soybean)), k.trial_scatter_soybean.low);
    near(cv(&means(&soybean)), k.trial_scatter_soybean.value);
    near(all(&soybean), k.trial_scatter_soybean.high);
    let bryan = Table::read("trial_corn_uniformity_three_fields.csv");
    let fields = bryan.groups("experiment", "yield").into_iter().map(|(_, v)| cv(&v));
    near(fields.fold(0.0, f64::max), k.trial_scatter_corn.high);
}

/// Yields by column of the field, from one side to the other.
fn columns(file: &str) -> Vec<Vec<f64>> {
    let mut columns = Table::read(file).groups("column", "yield_bu_per_acre");
    columns.sort_by_key(|(name, _)| name.parse::<u32>().unwrap());
    columns.into_iter().map(|(_, values)| values).collect()
}

/// Scatter of a strip within pairs of neighbours, in percent.
fn neighbours(strips: &[f64]) -> f64 {
    let pairs: Vec<f64> = strips.chunks_exact(2).map(|p| (p[0] - p[1]).powi(2) / 2.0).collect();
    100.0 * mean(&pairs).unwrap().sqrt() / mean(strips).unwrap()
}
