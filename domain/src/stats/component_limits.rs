//! Limits of the two components of variance, of their sum, and of the share between groups.
//!
//! Groups may have different sizes. What varies between groups is taken from the plain variance of
//! the group means, whose expectation is `s_b`² + `s_w`² / h with the harmonic mean h of the sizes:
//! each group counts once.

use super::chi_square::per_df;
use super::count::count;
use super::fisher_snedecor::f_point;
use super::one_way::OneWay;
use super::sample::{mean, squares};

/// Low and high limits that belong to a one-way table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ComponentLimits {
    /// Of the variance between groups, never negative (modified large-sample method for a
    /// difference of mean squares).
    pub between: (f64, f64),
    /// Of the variance of one reading of any group, both components together (modified
    /// large-sample method of Graybill and Wang for a sum of mean squares).
    pub total: (f64, f64),
    /// Of the share of the variance that lies between groups, 0 to 1 (exact, also for groups of
    /// different sizes); `None` when nothing varies within groups.
    pub intraclass: Option<(f64, f64)>,
}

/// A mean square, scaled, with its degrees of freedom.
#[derive(Debug, Clone, Copy)]
struct Scaled {
    value: f64,
    df: f64,
}

impl Scaled {
    /// How far a low limit lies below 1: 1 - df / chi² at the upper point.
    fn below(self, tail: f64) -> Option<f64> {
        Some(1.0 - 1.0 / per_df(1.0 - tail, self.df)?)
    }

    /// How far a high limit lies above 1: df / chi² at the lower point, less 1.
    fn above(self, tail: f64) -> Option<f64> {
        Some(1.0 / per_df(tail, self.df)? - 1.0)
    }
}

impl ComponentLimits {
    /// The limits at a confidence between 0 and 1; `None` unless there are two groups and one of
    /// them has two readings. Each pair holds the moment estimate of [`OneWay::components`].
    pub fn of(groups: &[Vec<f64>], confidence: f64) -> Option<Self> {
        if !(confidence > 0.0 && confidence < 1.0) {
            return None;
        }
        let tail = (1.0 - confidence) / 2.0;
        let table = OneWay::of(groups)?;
        let found = table.components()?;
        let filled: Vec<&Vec<f64>> = groups.iter().filter(|g| !g.is_empty()).collect();
        let means: Vec<f64> = filled.iter().filter_map(|g| mean(g)).collect();
        let k = count(means.len());
        let inverse: f64 = filled.iter().map(|g| 1.0 / count(g.len())).sum::<f64>() / k;
        let of_means = Scaled { value: squares(&means) / (k - 1.0), df: k - 1.0 };
        let within = |share: f64| Scaled { value: share * found.within, df: table.within_df() };
        let intraclass = if found.within > 0.0 {
            Some(share_between(&filled, &means, found.within, table.within_df(), tail)?)
        } else {
            None
        };
        Some(Self {
            between: holding(found.between, difference(of_means, within(inverse), tail)?),
            total: holding(found.total(), sum(of_means, within(1.0 - inverse), tail)?),
            intraclass: intraclass.map(|limits| holding(found.intraclass(), limits)),
        })
    }
}

/// Moment estimate and limits weigh groups of different sizes a little differently: limits that
/// miss the estimate are drawn out to it.
fn holding(estimate: f64, (low, high): (f64, f64)) -> (f64, f64) {
    (low.min(estimate), high.max(estimate))
}

/// Limits of E(a) - E(b), exact where b vanishes and where a limit is 0.
fn difference(a: Scaled, b: Scaled, tail: f64) -> Option<(f64, f64)> {
    let estimate = a.value - b.value;
    let both = a.value * b.value;
    let (down, up) = (a.below(tail)?, b.above(tail)?);
    let f = f_point(1.0 - tail, a.df, b.df)?;
    let cross = ((f - 1.0).powi(2) - (down * f).powi(2) - up.powi(2)) / f;
    let low = (down * a.value).powi(2) + (up * b.value).powi(2) + cross * both;
    let (up, down) = (a.above(tail)?, b.below(tail)?);
    let f = f_point(tail, a.df, b.df)?;
    let cross = ((1.0 - f).powi(2) - (up * f).powi(2) - down.powi(2)) / f;
    let high = (up * a.value).powi(2) + (down * b.value).powi(2) + cross * both;
    let limits = (estimate - low.max(0.0).sqrt(), estimate + high.max(0.0).sqrt());
    Some((limits.0.max(0.0), limits.1.max(0.0)))
}

/// Limits of E(a) + E(b), exact where one of them vanishes.
fn sum(a: Scaled, b: Scaled, tail: f64) -> Option<(f64, f64)> {
    let reach = |x: f64, y: f64| (x * a.value).hypot(y * b.value);
    let estimate = a.value + b.value;
    let low = estimate - reach(a.below(tail)?, b.below(tail)?);
    let high = estimate + reach(a.above(tail)?, b.above(tail)?);
    Some((low.max(0.0), high))
}

/// Exact limits of `s_b`² / (`s_b`² + `s_w`²).
///
/// With r = `s_b`² / `s_w`² the group means vary by `s_w`² (r + 1 / n), so their weighted sum of
/// squares over `s_w`² is chi-square at the true r, and over the mean square within it is F. The
/// limits are the shares at which it meets the upper and the lower point of F.
fn share_between(
    groups: &[&Vec<f64>],
    means: &[f64],
    within: f64,
    within_df: f64,
    tail: f64,
) -> Option<(f64, f64)> {
    let df = count(means.len()) - 1.0;
    let f_at = |share: f64| {
        let ratio = share / (1.0 - share);
        let weights: Vec<f64> =
            groups.iter().map(|g| 1.0 / (ratio + 1.0 / count(g.len()))).collect();
        let total: f64 = weights.iter().sum();
        let weighted =
            |x: &dyn Fn(f64) -> f64| weights.iter().zip(means).map(|(w, m)| w * x(*m)).sum::<f64>();
        let centre = weighted(&|m| m) / total;
        weighted(&|m| (m - centre).powi(2)) / df / within
    };
    let limit = |p: f64| Some(falls_to(f_point(p, df, within_df)?, f_at));
    Some((limit(1.0 - tail)?, limit(tail)?))
}

/// The place from 0 to 1 where a falling function meets a value; 0 where it starts below it.
fn falls_to(value: f64, of: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    if of(low) <= value {
        return low;
    }
    // Each step halves the bracket; 50 reach the last digits of a share.
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if of(middle) > value {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
