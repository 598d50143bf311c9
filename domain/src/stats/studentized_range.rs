//! The studentized range: the distance between the largest and the smallest of k means, in standard
//! errors. It holds all pairs of treatments against each other (Tukey).

use std::f64::consts::SQRT_2;
use std::sync::OnceLock;

use super::normal::phi;
use super::quadrature::{Smooth, falls_to, over_normal, over_spread, sound};
use super::student::t_p_value;

/// Most means at once.
const MOST: u32 = 200;
/// Beyond this distance lie less than 1e-15 of all, for up to 200 means.
const FAR: f64 = 13.0;

/// The range of k normal variables whose spread is known, for the numbers of means that trials have.
static KNOWN_SPREAD: [OnceLock<Smooth>; 25] = [const { OnceLock::new() }; 25];

/// The chance of a range at least this large when none of the k means differ.
///
/// `None` unless `q` >= 0, `k` is 2 to 200 and `df` >= 1.
pub fn studentized_tail(q: f64, k: u32, df: f64) -> Option<f64> {
    if !(q >= 0.0 && allowed(k, df)) {
        return None;
    }
    if k == 2 {
        // The range of two is their distance: Student's t.
        return t_p_value((q / SQRT_2).min(1e150), df);
    }
    Some(with_range(k, |range| tail(q, df, range)))
}

/// The range that is exceeded with a chance of `alpha`; `None` unless 0 < `alpha` < 1.
pub fn studentized_critical(alpha: f64, k: u32, df: f64) -> Option<f64> {
    if !(alpha > 0.0 && alpha < 1.0 && allowed(k, df)) {
        return None;
    }
    with_range(k, |range| falls_to(alpha, |q| tail(q, df, range)))
}

fn allowed(k: u32, df: f64) -> bool {
    (2..=MOST).contains(&k) && sound(df)
}

fn tail(q: f64, df: f64, range: &Smooth) -> f64 {
    (1.0 - over_spread(df, |s| range.at(q * s))).clamp(0.0, 1.0)
}

fn with_range<T>(k: u32, use_it: impl FnOnce(&Smooth) -> T) -> T {
    let make = || Smooth::of(FAR, |w| range_below(w, k));
    let kept = usize::try_from(k).ok().and_then(|k| KNOWN_SPREAD.get(k));
    match kept {
        Some(kept) => use_it(kept.get_or_init(make)),
        None => use_it(&make()),
    }
}

/// The chance that k standard normal variables lie within a distance `w`.
fn range_below(w: f64, k: u32) -> f64 {
    let others = i32::try_from(k).unwrap_or(i32::MAX) - 1;
    f64::from(k) * over_normal(|z| (phi(z) - phi(z - w)).max(0.0).powi(others))
}
