//! Student's t: critical values, p-values, and how many units an answer needs.

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
    if !(half_width > 0.0 && sd.is_finite()) {
        return None;
    }
    (2..=most).find(|k| {
        let k = f64::from(*k);
        t_critical(0.05, k - 1.0).is_some_and(|t| t * sd / k.sqrt() <= half_width)
    })
}

fn distribution(df: f64) -> Option<StudentsT> {
    if !(df >= 1.0 && df.is_finite()) {
        return None;
    }
    StudentsT::new(0.0, 1.0, df).ok()
}
