//! Limits of a share that was counted (Wilson's interval, good for small counts too).

use super::normal::phi_inverse;

/// Low and high limit of a share of which `count` in `of` were seen.
///
/// Neither number need be whole, so that an effective number of readings can be used. `None`
/// unless 0 <= `count` <= `of`, `of` > 0 and 0 < `confidence` < 1.
pub fn wilson(count: f64, of: f64, confidence: f64) -> Option<(f64, f64)> {
    let sound = count >= 0.0 && count <= of && of > 0.0 && of.is_finite();
    if !(sound && confidence > 0.0 && confidence < 1.0) {
        return None;
    }
    let z2 = phi_inverse(0.5 + confidence / 2.0).powi(2);
    let share = count / of;
    let centre = (share + z2 / (2.0 * of)) / (1.0 + z2 / of);
    let spread = z2 * (share * (1.0 - share) / of + z2 / (4.0 * of * of));
    let half = spread.sqrt() / (1.0 + z2 / of);
    // The share itself always belongs to the interval, whatever the last binary digit is.
    let low = (centre - half).clamp(0.0, share);
    let high = (centre + half).clamp(share, 1.0);
    Some((low, high))
}
