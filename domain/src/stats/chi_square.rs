//! Limits of a standard deviation.

use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Low and high limit of a standard deviation with `df` degrees of freedom.
///
/// `None` unless `df` >= 1 and 0 < `confidence` < 1.
pub fn sd_limits(sd: f64, df: f64, confidence: f64) -> Option<(f64, f64)> {
    let sound = df >= 1.0 && df.is_finite() && sd >= 0.0 && sd.is_finite();
    if !(sound && confidence > 0.0 && confidence < 1.0) {
        return None;
    }
    let distribution = ChiSquared::new(df).ok()?;
    let tail = (1.0 - confidence) / 2.0;
    let limit = |p: f64| sd * (df / distribution.inverse_cdf(p)).sqrt();
    let (low, high) = (limit(1.0 - tail), limit(tail));
    (low.is_finite() && high.is_finite()).then_some((low, high))
}
