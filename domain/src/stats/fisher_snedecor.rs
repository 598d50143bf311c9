//! Fisher's F: the ratio of two mean squares.

use statrs::distribution::{ContinuousCDF, FisherSnedecor};

/// The F below which a share `p` lies; `None` unless 0 < `p` < 1 and both degrees of freedom are
/// at least 1.
pub fn f_point(p: f64, df: f64, other_df: f64) -> Option<f64> {
    let sound = df >= 1.0 && other_df >= 1.0 && df.is_finite() && other_df.is_finite();
    if !(sound && p > 0.0 && p < 1.0) {
        return None;
    }
    let point = FisherSnedecor::new(df, other_df).ok()?.inverse_cdf(p);
    (point > 0.0 && point.is_finite()).then_some(point)
}

/// The chance of an F at least this large; `None` unless it is 0 or more and both degrees of
/// freedom are at least 1.
pub fn f_tail(f: f64, df: f64, other_df: f64) -> Option<f64> {
    let sound = f >= 0.0 && df >= 1.0 && other_df >= 1.0;
    if !(sound && df.is_finite() && other_df.is_finite()) {
        return None;
    }
    // An endless F is beyond every other.
    if f.is_infinite() {
        return Some(0.0);
    }
    Some(FisherSnedecor::new(df, other_df).ok()?.sf(f))
}
