//! Grubbs' test: whether one value lies too far from the others.

use super::count::count;
use super::sample::{mean, sd};
use super::student::{t_critical, t_p_value};

/// The value that lies farthest from the mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Farthest {
    /// Its place in the list.
    pub place: usize,
    /// Its distance from the mean in standard deviations.
    pub g: f64,
    /// The chance that one of so many lies that far, two-sided; never above 1.
    pub p: f64,
}

/// Looks for the value farthest from the mean; `None` with fewer than three, or where nothing varies.
pub fn grubbs(values: &[f64]) -> Option<Farthest> {
    let n = count(values.len());
    let (centre, spread) = (mean(values)?, sd(values)?);
    let varies = n >= 3.0 && spread > 0.0;
    if !varies {
        return None;
    }
    let far = values.iter().map(|v| (v - centre).abs() / spread).enumerate();
    let (place, g) = far.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let left = (n - 1.0).powi(2) - n * g * g;
    // Nothing is left when all others are alike: as far as it can lie.
    let p = if left > 0.0 {
        n * t_p_value((n * (n - 2.0) * g * g / left).sqrt(), n - 2.0)?
    } else {
        0.0
    };
    Some(Farthest { place, g, p: p.min(1.0) })
}

/// The distance in standard deviations that one of `n` values exceeds with a chance of `alpha`,
/// two-sided. One-sided it is that of twice the chance. `None` unless `n` >= 3 and 0 < `alpha` < 1.
pub fn grubbs_critical(alpha: f64, n: f64) -> Option<f64> {
    if !(alpha > 0.0 && alpha < 1.0) {
        return None;
    }
    let t2 = t_critical(alpha / n, n - 2.0)?.powi(2);
    Some((n - 1.0) / n.sqrt() * (t2 / (n - 2.0 + t2)).sqrt())
}
