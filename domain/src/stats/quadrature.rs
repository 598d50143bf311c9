//! Integrals over the two things that test statistics average over: a standard normal variable, and
//! the standard deviation of a sample.

use std::f64::consts::{LN_2, PI};
use std::sync::LazyLock;

use statrs::function::gamma::ln_gamma;

/// Points of the Gauss-Legendre rule in each panel.
const POINTS: u32 = 16;
/// Panels over the normal variable, and how far out they reach: beyond lies 1e-16 of it.
const NORMAL_PANELS: u32 = 8;
const NORMAL_REACH: f64 = 8.3;
/// The chance left out at either end of the standard deviation is below e^-40.
const SPREAD_TAIL: f64 = 40.0;

/// Places and weights of the rule on -1 to 1.
static RULE: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| (1..=POINTS).map(place).collect());
/// Places and weights of the standard normal variable.
static NORMAL: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let step = 2.0 * NORMAL_REACH / f64::from(NORMAL_PANELS);
    let edges: Vec<f64> =
        (0..=NORMAL_PANELS).map(|i| -NORMAL_REACH + step * f64::from(i)).collect();
    let density = |z: f64| (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
    places(&edges).into_iter().map(|(z, w)| (z, w * density(z))).collect()
});

/// The i-th zero of the Legendre polynomial by Newton's method, and its weight.
fn place(i: u32) -> (f64, f64) {
    let n = f64::from(POINTS);
    let mut x = (PI * (f64::from(i) - 0.25) / (n + 0.5)).cos();
    let mut slope = 1.0;
    for _ in 0..100 {
        let (mut before, mut value) = (1.0, x);
        for k in 2..=POINTS {
            let k = f64::from(k);
            (before, value) = (value, ((2.0 * k - 1.0) * x * value - (k - 1.0) * before) / k);
        }
        slope = n * (x * value - before) / (x * x - 1.0);
        let step = value / slope;
        x -= step;
        if step.abs() < 1e-15 {
            break;
        }
    }
    (x, 2.0 / ((1.0 - x * x) * slope * slope))
}

/// Places and weights of the rule in each panel between edges.
fn places(edges: &[f64]) -> Vec<(f64, f64)> {
    let panels = edges.iter().zip(edges.iter().skip(1));
    panels
        .flat_map(|(from, to)| {
            let (middle, half) = (f64::midpoint(*from, *to), (to - from) / 2.0);
            RULE.iter().map(move |(x, w)| (middle + half * x, half * w))
        })
        .collect()
}

/// The mean of a function of a standard normal variable.
pub(super) fn over_normal(f: impl Fn(f64) -> f64) -> f64 {
    NORMAL.iter().map(|(z, w)| w * f(*z)).sum()
}

/// The mean of a function of s: the standard deviation of a sample with `df` degrees of freedom, when
/// the true one is 1. `df` must be at least 1.
pub(super) fn over_spread(df: f64, f: impl Fn(f64) -> f64) -> f64 {
    // Chi-square beyond these ends has a chance below e^-40 (Laurent and Massart).
    let reach = 2.0 * (SPREAD_TAIL / df).sqrt();
    let low = (1.0 - reach).max(0.0).sqrt();
    let high = (1.0 + reach + 2.0 * SPREAD_TAIL / df).sqrt();
    let panels: u32 = if df < 8.0 { 12 } else { 6 };
    // Where it reaches down to 0 most happens near there, so panels begin narrow.
    let edge = |i: u32| {
        let part = f64::from(i) / f64::from(panels);
        low + (high - low) * if low > 0.0 { part } else { part * part }
    };
    let log_scale = LN_2 + df / 2.0 * (df / 2.0).ln() - ln_gamma(df / 2.0);
    let density = |s: f64| (log_scale + (df - 1.0) * s.ln() - df * s * s / 2.0).exp();
    let (mut sum, mut whole) = (0.0, 0.0);
    for (s, w) in places(&(0..=panels).map(edge).collect::<Vec<f64>>()) {
        let share = w * density(s);
        sum += share * f(s);
        whole += share;
    }
    // With many degrees of freedom the scale is the difference of two large logarithms.
    sum / whole
}

/// The place where a falling function that starts above `value` at 0 meets it, by halving after the
/// far end was doubled into reach; `None` when it never comes down.
pub(super) fn falls_to(value: f64, of: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = ((0.0, of(0.0) - value), (1.0, of(1.0) - value));
    let mut doubled = 0;
    while high.1 > 0.0 {
        if doubled > 60 {
            return None;
        }
        doubled += 1;
        low = high;
        high.0 *= 2.0;
        high.1 = of(high.0) - value;
    }
    // Regula falsi with the weight of a stale end halved (Illinois): few steps, never outside.
    for _ in 0..200 {
        if high.0 - low.0 <= 1e-12 * high.0.max(1.0) {
            break;
        }
        let mut x = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
        if !(x > low.0 && x < high.0) {
            x = f64::midpoint(low.0, high.0);
        }
        let y = of(x) - value;
        if y.abs() < 1e-15 {
            return Some(x);
        }
        if y > 0.0 {
            low = (x, y);
            high.1 /= 2.0;
        } else {
            high = (x, y);
            low.1 /= 2.0;
        }
    }
    Some(f64::midpoint(low.0, high.0))
}

/// A smooth function from 0 up to where it has become 1, kept as polynomials, one a panel: a function
/// that is an integral itself is then asked as often as one likes.
#[derive(Debug)]
pub(super) struct Smooth {
    width: f64,
    panels: Vec<Vec<f64>>,
}

impl Smooth {
    const PANELS: u32 = 8;

    /// Chebyshev polynomials through the points of each panel.
    pub(super) fn of(end: f64, f: impl Fn(f64) -> f64) -> Self {
        let width = end / f64::from(Self::PANELS);
        let n = f64::from(POINTS);
        let angles: Vec<f64> = (0..POINTS).map(|j| PI * (f64::from(j) + 0.5) / n).collect();
        let panel = |at: u32| {
            let middle = width * (f64::from(at) + 0.5);
            let values: Vec<f64> =
                angles.iter().map(|a| f(middle + width / 2.0 * a.cos())).collect();
            let weight = |k: u32| if k == 0 { 1.0 / n } else { 2.0 / n };
            let along = |k: u32| angles.iter().map(move |a| (f64::from(k) * a).cos());
            (0..POINTS)
                .map(|k| weight(k) * along(k).zip(&values).map(|(c, v)| c * v).sum::<f64>())
                .collect()
        };
        Self { width, panels: (0..Self::PANELS).map(panel).collect() }
    }

    /// Its value; 1 beyond the end.
    pub(super) fn at(&self, x: f64) -> f64 {
        let mut place = x / self.width;
        for panel in &self.panels {
            if place <= 1.0 {
                let u = 4.0 * place - 2.0;
                // Clenshaw's sum, from the highest polynomial down.
                let (mut one, mut two) = (0.0, 0.0);
                for c in panel.iter().skip(1).rev() {
                    (one, two) = (c + u * one - two, one);
                }
                return panel.first().map_or(0.0, |first| first + u / 2.0 * one - two);
            }
            place -= 1.0;
        }
        1.0
    }
}

/// Whether degrees of freedom can be calculated with.
pub(super) fn sound(df: f64) -> bool {
    (1.0..=1e9).contains(&df)
}

#[cfg(test)]
mod tests {
    use super::{Smooth, over_normal, over_spread};
    use crate::stats::phi;

    #[test]
    fn a_smooth_function_is_met_everywhere() {
        let f = |x: f64| phi(3.0 * x - 4.0) - phi(-4.0) * (1.0 - x / 9.0);
        let smooth = Smooth::of(9.0, f);
        for i in 0..9000 {
            let x = f64::from(i) / 1000.0;
            assert!((smooth.at(x) - f(x)).abs() < 1e-9, "{x}: {} {}", smooth.at(x), f(x));
        }
        assert!((smooth.at(9.5) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn moments_are_those_of_the_distributions() {
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12 * b.abs().max(1.0), "{a} {b}");
        near(over_normal(|_| 1.0), 1.0);
        near(over_normal(|z| z.powi(4)), 3.0);
        for df in [1.0, 2.0, 3.0, 7.0, 8.0, 30.0, 500.0, 20_000.0] {
            near(over_spread(df, |_| 1.0), 1.0);
            near(over_spread(df, |s| s * s), 1.0);
            near(over_spread(df, |s| s.powi(4)), 1.0 + 2.0 / df);
        }
    }
}
