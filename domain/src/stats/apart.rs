//! Whether one group of rows differs from the rest.

use super::count::count;
use super::one_way::OneWay;
use super::sample::{mean, squares};
use super::student::t_p_value;

/// How many degrees of freedom the usual spread between groups is worth.
const WORTH_OF_USUAL: f64 = 4.0;

/// How far one set of groups lies from another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// Mean of the group means of the first set, less that of the second.
    pub difference: f64,
    /// Two-sided p-value.
    pub p: f64,
}

/// What is known about the spread before a reading is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// Finest step of the ruler: readings that agree to the last digit are not known better.
    pub grain: f64,
    /// Usual standard deviation between groups that are alike.
    pub between: f64,
}

/// Compares the mean of the groups in `own` with the mean of the groups in `rest`.
///
/// Each group counts once, whatever its size. The noise of a group mean is what group means of the
/// same set show, moderated by what is usual (spread within groups over their size, plus the usual
/// spread between groups; worth four degrees of freedom): few groups alone say little about their
/// own spread. Where no group has two readings there is nothing to moderate with, and this is
/// Student's t on the single readings; one against the rest is then Grubbs' test before its
/// allowance for picking the worst.
///
/// `None` when there is nothing to judge the difference by.
pub fn apart(own: &[Vec<f64>], rest: &[Vec<f64>], usual: Usual) -> Option<Difference> {
    let (a, b) = (group_means(own), group_means(rest));
    let difference = mean(&a)? - mean(&b)?;
    let df = count(a.len()) + count(b.len()) - 2.0;
    let seen = squares(&a) + squares(&b);
    let all: Vec<Vec<f64>> = own.iter().chain(rest).cloned().collect();
    let rounding = usual.grain * usual.grain / 12.0;
    let (variance, df) = match OneWay::of(&all)?.within_ms() {
        Some(within) => {
            let one = |g: &Vec<f64>| usual.between.powi(2) + within.max(rounding) / count(g.len());
            let expected = mean(&filled(&all).map(one).collect::<Vec<_>>())?;
            let total = df + WORTH_OF_USUAL;
            let factor = (seen / expected + WORTH_OF_USUAL) / total;
            (factor * (of_mean(own, one) + of_mean(rest, one)), total)
        }
        None if df >= 1.0 => {
            let noise = (seen / df).max(rounding);
            (noise / count(a.len()) + noise / count(b.len()), df)
        }
        None => return None,
    };
    if variance <= 0.0 {
        return None;
    }
    let p = t_p_value(difference / variance.sqrt(), df)?;
    Some(Difference { difference, p })
}

fn filled(groups: &[Vec<f64>]) -> impl Iterator<Item = &Vec<f64>> {
    groups.iter().filter(|g| !g.is_empty())
}

fn group_means(groups: &[Vec<f64>]) -> Vec<f64> {
    groups.iter().filter_map(|g| mean(g)).collect()
}

/// Variance of the mean of group means from the variance of each.
fn of_mean(groups: &[Vec<f64>], one: impl Fn(&Vec<f64>) -> f64) -> f64 {
    let (sum, k) = filled(groups).fold((0.0, 0.0), |(sum, k), g| (sum + one(g), k + 1.0));
    sum / (k * k)
}
