//! Whether groups scatter alike: Cochran's C, Bartlett's test, and that of Brown and Forsythe.

use super::chi_square::chi_square_below;
use super::count::count;
use super::fisher_snedecor::{f_point, f_tail};
use super::one_way::OneWay;
use super::sample::{sd, squares};

/// A statistic with its chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tested {
    /// The statistic.
    pub statistic: f64,
    /// The chance of it, or of more, when groups scatter alike.
    pub p: f64,
}

/// Cochran's C: the share of the largest variance in the sum of all; groups of `size` values each. The
/// place of that group comes with it.
///
/// The chance is the upper bound by Bonferroni, which is close for small chances. `None` unless there
/// are two groups, `size` is 2 or more, and something varies.
pub fn cochran(variances: &[f64], size: f64) -> Option<(usize, Tested)> {
    let total: f64 = variances.iter().sum();
    if variances.len() < 2 || !(size >= 2.0 && total > 0.0 && total.is_finite()) {
        return None;
    }
    let largest = variances.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
    let (place, variance) = largest?;
    let (k, share) = (count(variances.len()), variance / total);
    let f = (k - 1.0) * share / (1.0 - share);
    let p = k * f_tail(f, size - 1.0, (k - 1.0) * (size - 1.0))?;
    Some((place, Tested { statistic: share, p: p.min(1.0) }))
}

/// The share that the largest of `k` variances exceeds with a chance of `alpha`, each of `n` values.
pub fn cochran_critical(alpha: f64, k: f64, n: f64) -> Option<f64> {
    let f = f_point(1.0 - alpha / k, n - 1.0, (k - 1.0) * (n - 1.0))?;
    Some(f / (f + k - 1.0))
}

/// Bartlett's test, for groups of any sizes from 2 up; made for values that are spread as a bell.
///
/// `None` with fewer than two groups of two, or where one of them does not vary.
pub fn bartlett(groups: &[Vec<f64>]) -> Option<Tested> {
    let of = |g: &Vec<f64>| Some((count(g.len()) - 1.0, sd(g)?.powi(2)));
    let parts: Vec<(f64, f64)> = groups.iter().filter_map(of).collect();
    let k = count(parts.len());
    if k < 2.0 || !parts.iter().all(|(_, variance)| *variance > 0.0) {
        return None;
    }
    let df: f64 = parts.iter().map(|(df, _)| df).sum();
    let pooled = parts.iter().map(|(df, v)| df * v).sum::<f64>() / df;
    let uneven = parts.iter().map(|(df, v)| df * (pooled / v).ln()).sum::<f64>();
    let inverse = parts.iter().map(|(df, _)| 1.0 / df).sum::<f64>();
    let statistic = (uneven / (1.0 + (inverse - 1.0 / df) / (3.0 * (k - 1.0)))).max(0.0);
    Some(Tested { statistic, p: 1.0 - chi_square_below(statistic, k - 1.0)? })
}

/// The test of Brown and Forsythe: analysis of variance of the distances from each group's median.
/// Hardly minds what shape the values have.
///
/// `None` with fewer than two groups, or where the distances do not vary.
pub fn brown_forsythe(groups: &[Vec<f64>]) -> Option<Tested> {
    let distances: Vec<Vec<f64>> = groups.iter().filter_map(|g| from_median(g)).collect();
    let table = OneWay::of(&distances)?;
    let within: f64 = distances.iter().map(|g| squares(g)).sum();
    let size: f64 = distances.iter().flatten().map(|d| d * d).sum();
    // What is only rounding does not vary.
    if within <= 1e-20 * size {
        return None;
    }
    Some(Tested { statistic: table.f()?, p: table.p()? })
}

fn from_median(group: &[f64]) -> Option<Vec<f64>> {
    let mut sorted = group.to_vec();
    sorted.sort_by(f64::total_cmp);
    let upper = *sorted.get(sorted.len() / 2)?;
    let lower = *sorted.get((sorted.len() - 1) / 2)?;
    let median = f64::midpoint(lower, upper);
    Some(group.iter().map(|v| (v - median).abs()).collect())
}
