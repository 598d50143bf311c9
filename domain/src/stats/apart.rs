//! Whether one group of rows differs from the rest.

use super::count::count;
use super::one_way::OneWay;
use super::sample::{mean, squares};
use super::student::t_p_value;

/// How far one set of groups lies from another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// Mean of the group means of the first set, less that of the second.
    pub difference: f64,
    /// Two-sided p-value.
    pub p: f64,
}

/// Compares the mean of the groups in `own` with the mean of the groups in `rest`.
///
/// Each group counts once, whatever its size. The noise is the spread of readings within groups;
/// where groups have too few readings for that, it is the spread of group means (with one group
/// against the rest this is Grubbs' test before its allowance for picking the worst). `grain` is
/// the finest step of the ruler: readings that agree to the last digit are not known better than
/// that.
///
/// `None` when there is nothing to judge the difference by.
pub fn apart(own: &[Vec<f64>], rest: &[Vec<f64>], grain: f64) -> Option<Difference> {
    let (a, b) = (group_means(own), group_means(rest));
    let difference = mean(&a)? - mean(&b)?;
    let all: Vec<Vec<f64>> = own.iter().chain(rest).cloned().collect();
    let table = OneWay::of(&all)?;
    let between_df = count(a.len()) + count(b.len()) - 2.0;
    let rounding = grain * grain / 12.0;
    let (variance, df) = if table.within_df() >= between_df.max(1.0) {
        let noise = table.within_ms()?.max(rounding);
        (noise * (reach(own) + reach(rest)), table.within_df())
    } else if between_df >= 1.0 {
        let noise = ((squares(&a) + squares(&b)) / between_df).max(rounding);
        (noise * (1.0 / count(a.len()) + 1.0 / count(b.len())), between_df)
    } else {
        return None;
    };
    if variance <= 0.0 {
        return None;
    }
    let p = t_p_value(difference / variance.sqrt(), df)?;
    Some(Difference { difference, p })
}

fn group_means(groups: &[Vec<f64>]) -> Vec<f64> {
    groups.iter().filter_map(|g| mean(g)).collect()
}

/// Variance of the mean of group means for a variance of 1 within groups.
fn reach(groups: &[Vec<f64>]) -> f64 {
    let filled = groups.iter().filter(|g| !g.is_empty());
    let (sum, k) = filled.fold((0.0, 0.0), |(sum, k), g| (sum + 1.0 / count(g.len()), k + 1.0));
    sum / (k * k)
}
