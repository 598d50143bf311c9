//! Mean and spread of readings, worked out in two passes so that large constants do not hurt.

use super::count::count;

/// The mean; `None` without readings.
pub fn mean(readings: &[f64]) -> Option<f64> {
    let first = *readings.first()?;
    let shifted: f64 = readings.iter().map(|x| x - first).sum();
    Some(first + shifted / count(readings.len()))
}

/// Sum of squared distances from the mean; 0 without readings.
pub fn squares(readings: &[f64]) -> f64 {
    let Some(centre) = mean(readings) else {
        return 0.0;
    };
    readings.iter().map(|x| (x - centre).powi(2)).sum()
}

/// The standard deviation with n - 1; `None` with fewer than two readings.
pub fn sd(readings: &[f64]) -> Option<f64> {
    if readings.len() < 2 {
        return None;
    }
    Some((squares(readings) / (count(readings.len()) - 1.0)).sqrt())
}
