//! Student's t when there is an effect: what a trial is likely to show.

use super::normal::phi;
use super::quadrature::{falls_to, over_spread, sound};

/// The chance that t lies above `t` when the true effect is `effect` standard errors (noncentral t).
///
/// `None` unless both are finite and `df` >= 1.
pub fn noncentral_t_above(t: f64, df: f64, effect: f64) -> Option<f64> {
    if !(t.is_finite() && effect.is_finite() && sound(df)) {
        return None;
    }
    Some(over_spread(df, |s| phi(effect - t * s)).clamp(0.0, 1.0))
}

/// The power of a two-sided test: the chance that t lies beyond plus or minus `critical` when the
/// true effect is `effect` standard errors.
///
/// `None` unless both are finite, `critical` >= 0 and `df` >= 1.
pub fn t_power(effect: f64, critical: f64, df: f64) -> Option<f64> {
    if critical < 0.0 {
        return None;
    }
    let above = noncentral_t_above(critical, df, effect)?;
    let below = noncentral_t_above(critical, df, -effect)?;
    Some((above + below).min(1.0))
}

/// The true effect, in standard errors, that a two-sided test shows with a chance of `power`.
///
/// `None` unless `power` lies between the chance of a false alarm and 1.
pub fn effect_for_power(power: f64, critical: f64, df: f64) -> Option<f64> {
    let alarm = t_power(0.0, critical, df)?;
    if !(power > alarm && power < 1.0) {
        return None;
    }
    falls_to(1.0 - power, |effect| 1.0 - t_power(effect, critical, df).unwrap_or(1.0))
}
