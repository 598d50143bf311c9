//! Limits of a standard deviation, and how it varies from sample to sample.

use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Low and high limit of a standard deviation with `df` degrees of freedom.
///
/// `None` unless `df` >= 1 and 0 < `confidence` < 1.
pub fn sd_limits(sd: f64, df: f64, confidence: f64) -> Option<(f64, f64)> {
    let sound = sd >= 0.0 && sd.is_finite();
    if !(sound && confidence > 0.0 && confidence < 1.0) {
        return None;
    }
    let tail = (1.0 - confidence) / 2.0;
    let (low, high) = (sd / per_df(1.0 - tail, df)?.sqrt(), sd / per_df(tail, df)?.sqrt());
    (low.is_finite() && high.is_finite()).then_some((low, high))
}

/// The share of chi-square with `df` degrees of freedom that lies below `x`: for a sample of df + 1
/// from a normal distribution, df s² / sigma² is such a number.
///
/// `None` unless `df` >= 1 and `x` >= 0.
pub fn chi_square_below(x: f64, df: f64) -> Option<f64> {
    if !(df >= 1.0 && df.is_finite() && x >= 0.0) {
        return None;
    }
    if x.is_infinite() {
        return Some(1.0);
    }
    ChiSquared::new(df).ok().map(|distribution| distribution.cdf(x))
}

/// Chi-square per degree of freedom below which a share `p` lies; `None` unless `df` >= 1 and
/// 0 < `p` < 1.
pub(super) fn per_df(p: f64, df: f64) -> Option<f64> {
    if !(df >= 1.0 && df.is_finite() && p > 0.0 && p < 1.0) {
        return None;
    }
    Some(ChiSquared::new(df).ok()?.inverse_cdf(p) / df)
}
