//! The test of Shapiro and Wilk: whether values are spread as a bell, by the approximation of
//! Royston (1995, algorithm AS R94).

use super::count::count;
use super::equal_scatter::Tested;
use super::normal::{phi, phi_inverse};
use super::sample::squares;

/// W and its chance; `None` with fewer than 3 or more than 5,000 values, or where nothing varies.
pub fn shapiro_wilk(values: &[f64]) -> Option<Tested> {
    let n = values.len();
    if !(3..=5000).contains(&n) {
        return None;
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let total = squares(&sorted);
    let range = sorted.last()? - sorted.first()?;
    let size = sorted.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
    if !(range > 1e-13 * size && total > 0.0) {
        return None;
    }
    let spread: f64 = weights(count(n))
        .iter()
        .zip(sorted.iter().zip(sorted.iter().rev()))
        .map(|(a, (low, high))| a * (high - low))
        .sum();
    let w = (spread * spread / total).min(1.0);
    Some(Tested { statistic: w, p: chance(w, count(n)) })
}

/// Weights of the distances between the i-th largest and the i-th smallest value, the first largest.
fn weights(n: f64) -> Vec<f64> {
    let score = |i: f64| -phi_inverse((i - 0.375) / (n + 0.25));
    let half = (n / 2.0).floor();
    let mut scores = Vec::new();
    let mut i = 1.0;
    while i <= half {
        scores.push(score(i));
        i += 1.0;
    }
    if n < 4.0 {
        return vec![std::f64::consts::FRAC_1_SQRT_2];
    }
    let sum = 2.0 * scores.iter().map(|m| m * m).sum::<f64>();
    let (root, small) = (sum.sqrt(), 1.0 / n.sqrt());
    let corrected = |m: f64, by: [f64; 6]| m / root + polynomial(&by, small);
    let at = |i: usize| scores.get(i).copied().unwrap_or(0.0);
    let first = corrected(at(0), [0.0, 0.221_157, -0.147_981, -2.071_19, 4.434_685, -2.706_056]);
    let second = corrected(at(1), [0.0, 0.042_981, -0.293_762, -1.752_461, 5.682_633, -3.582_633]);
    // The outermost weights are corrected; the others are scaled so that all squares sum to 1.
    let outer: &[(f64, f64)] =
        if n > 5.0 { &[(at(0), first), (at(1), second)] } else { &[(at(0), first)] };
    let scores_left = sum - 2.0 * outer.iter().map(|(m, _)| m * m).sum::<f64>();
    let weight_left = 1.0 - 2.0 * outer.iter().map(|(_, a)| a * a).sum::<f64>();
    let scale = (scores_left / weight_left).sqrt();
    let inner = scores.iter().skip(outer.len()).map(|m| m / scale);
    outer.iter().map(|(_, a)| *a).chain(inner).collect()
}

/// The chance of a W as small.
fn chance(w: f64, n: f64) -> f64 {
    if n < 4.0 {
        let least = 0.75_f64.sqrt().asin();
        return (6.0 / std::f64::consts::PI * (w.sqrt().asin() - least)).clamp(0.0, 1.0);
    }
    let off = (1.0 - w).ln();
    let (value, mean, sd) = if n <= 11.0 {
        let edge = polynomial(&[-2.273, 0.459], n);
        if off >= edge {
            return 0.0;
        }
        let mean = polynomial(&[0.544, -0.399_78, 0.025_054, -6.714e-4], n);
        let sd = polynomial(&[1.3822, -0.778_57, 0.062_767, -0.002_032_2], n).exp();
        (-(edge - off).ln(), mean, sd)
    } else {
        let log = n.ln();
        let mean = polynomial(&[-1.5861, -0.310_82, -0.083_751, 0.003_891_5], log);
        let sd = polynomial(&[-0.4803, -0.082_676, 0.003_030_2], log).exp();
        (off, mean, sd)
    };
    phi(-(value - mean) / sd)
}

fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}
