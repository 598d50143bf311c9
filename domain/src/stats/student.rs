//! Student's t: critical values, p-values, and how many units an answer needs.

use std::ops::RangeInclusive;

use statrs::distribution::{ContinuousCDF, StudentsT};

/// The two-sided critical value: a share `alpha` of t lies outside plus and minus this.
///
/// `None` unless 0 < `alpha` < 1 and `df` >= 1.
pub fn t_critical(alpha: f64, df: f64) -> Option<f64> {
    if !(alpha > 0.0 && alpha < 1.0) {
        return None;
    }
    let value = distribution(df)?.inverse_cdf(1.0 - alpha / 2.0);
    value.is_finite().then_some(value)
}

/// The two-sided p-value of a t statistic.
///
/// `None` unless the statistic is finite and `df` >= 1.
pub fn t_p_value(t: f64, df: f64) -> Option<f64> {
    if !t.is_finite() {
        return None;
    }
    Some((2.0 * distribution(df)?.sf(t.abs())).min(1.0))
}

/// The smallest number of units, from 2 to `most`, whose mean is known to within `half_width` at
/// 95 %: t(0.975, k - 1) s / sqrt(k) <= half width.
///
/// `sd` is the standard deviation of one unit. For rows with `n` readings each it is
/// sqrt(`s_b`² + `s_w`² / n). `None` when even `most` units do not do.
pub fn units_needed(sd: f64, half_width: f64, most: u32) -> Option<u32> {
    units_needed_by(0.05, half_width, 2..=most, |_| sd)
}

/// The same at another confidence, 1 - `alpha`, among other numbers of units, and with a standard
/// deviation that follows from the number.
pub fn units_needed_by(
    alpha: f64,
    half_width: f64,
    mut among: RangeInclusive<u32>,
    sd: impl Fn(u32) -> f64,
) -> Option<u32> {
    if half_width.is_nan() || half_width <= 0.0 {
        return None;
    }
    among.find(|units| {
        let k = f64::from(*units);
        t_critical(alpha, k - 1.0).is_some_and(|t| t * sd(*units) / k.sqrt() <= half_width)
    })
}

fn distribution(df: f64) -> Option<StudentsT> {
    if !(df >= 1.0 && df.is_finite()) {
        return None;
    }
    StudentsT::new(0.0, 1.0, df).ok()
}
