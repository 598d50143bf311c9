//! An uncertain number, carried by its first three moments.
//!
//! Most coefficients are triangular (low, likely, high); those of the resistance of soil are
//! uncertain by ratios. Sums and products of independent terms have exact moments; tail areas and
//! quantiles come from a Pearson III curve with the same mean, spread and skew, by the
//! Wilson-Hilferty cube (Kite 1977, Frequency and Risk Analyses in Hydrology; the form is checked
//! against simulation in the tests).

use super::normal::{phi, phi_inverse};

/// Raw moments: the means of X, X² and X³.
#[must_use]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    m1: f64,
    m2: f64,
    m3: f64,
}

impl Spread {
    /// A number that is known.
    pub fn exact(value: f64) -> Self {
        Self { m1: value, m2: value * value, m3: value * value * value }
    }

    /// Triangular between `low` and `high` with its peak at `likely`.
    ///
    /// The ends may come in either order; `likely` is moved into the range if it lies outside.
    pub fn triangular(low: f64, likely: f64, high: f64) -> Self {
        let (a, b) = (low.min(high), low.max(high));
        let c = likely.clamp(a, b);
        let m1 = (a + b + c) / 3.0;
        let m2 = (a * a + b * b + c * c + a * b + a * c + b * c) / 6.0;
        let cubes = a * a * a + b * b * b + c * c * c;
        let mixed = a * a * (b + c) + b * b * (a + c) + c * c * (a + b);
        Self { m1, m2, m3: (cubes + mixed + a * b * c) / 10.0 }
    }

    /// A number that is uncertain by ratios: half of the cases lie below `likely`, half above, and on
    /// either side they thin out evenly to the end, on a scale of logarithms.
    ///
    /// All three are above zero, in rising order; an end beyond `likely` counts as `likely`.
    pub fn by_ratio(low: f64, likely: f64, high: f64) -> Self {
        let log = |end: f64| (end.max(f64::MIN_POSITIVE) / likely.max(f64::MIN_POSITIVE)).ln();
        let (down, up) = (log(low).min(0.0), log(high).max(0.0));
        let moment = |k: f64| 0.5 * (thinning(k * down) + thinning(k * up));
        Self { m1: moment(1.0), m2: moment(2.0), m3: moment(3.0) }.scaled(likely)
    }

    /// A number between `low` and `high` by the share that lies above each value.
    ///
    /// `E[X^k] = low^k + k` times the integral of `t^(k-1) above(t)`, by Simpson's rule.
    pub fn by_tail(low: f64, high: f64, above: impl Fn(f64) -> f64) -> Self {
        const PANELS: u32 = 24;
        let width = (high - low).max(0.0) / f64::from(PANELS);
        if width <= 0.0 {
            return Self::exact(low);
        }
        let mut sums = [0.0; 3];
        for i in 0..PANELS {
            let from = low + width * f64::from(i);
            for (t, weight) in [(from, 1.0), (from + 0.5 * width, 4.0), (from + width, 1.0)] {
                let share = weight * above(t);
                let [one, two, three] = sums;
                sums = [one + share, two + share * t, three + share * t * t];
            }
        }
        let [one, two, three] = sums.map(|s| s * width / 6.0);
        Self { m1: low + one, m2: low * low + 2.0 * two, m3: low * low * low + 3.0 * three }
    }

    /// A number that lies in one of some steps, evenly within each: from, to, chance. The chances
    /// sum to 1.
    pub fn by_steps(steps: impl Iterator<Item = (f64, f64, f64)>) -> Self {
        steps.fold(Self { m1: 0.0, m2: 0.0, m3: 0.0 }, |sum, (a, b, chance)| Self {
            m1: sum.m1 + chance * (a + b) / 2.0,
            m2: sum.m2 + chance * (a * a + a * b + b * b) / 3.0,
            m3: sum.m3 + chance * (a * a + b * b) * (a + b) / 4.0,
        })
    }

    /// The sum with an independent number.
    pub fn plus(self, other: Self) -> Self {
        Self {
            m1: self.m1 + other.m1,
            m2: self.m2 + 2.0 * self.m1 * other.m1 + other.m2,
            m3: self.m3 + 3.0 * self.m2 * other.m1 + 3.0 * self.m1 * other.m2 + other.m3,
        }
    }

    /// The product with an independent number.
    pub fn times(self, other: Self) -> Self {
        Self { m1: self.m1 * other.m1, m2: self.m2 * other.m2, m3: self.m3 * other.m3 }
    }

    /// Multiplied by a known factor.
    pub fn scaled(self, k: f64) -> Self {
        Self { m1: self.m1 * k, m2: self.m2 * k * k, m3: self.m3 * k * k * k }
    }

    /// A mixture: with weight `w` this, else the other.
    pub fn mixed(self, w: f64, other: Self) -> Self {
        let v = 1.0 - w;
        Self {
            m1: w * self.m1 + v * other.m1,
            m2: w * self.m2 + v * other.m2,
            m3: w * self.m3 + v * other.m3,
        }
    }

    /// The mean.
    pub fn mean(self) -> f64 {
        self.m1
    }

    /// The standard deviation.
    pub fn sd(self) -> f64 {
        (self.m2 - self.m1 * self.m1).max(0.0).sqrt()
    }

    /// Skewness, 0 for a known number.
    pub fn skew(self) -> f64 {
        let sd = self.sd();
        if sd <= 1e-9 * self.m1.abs().max(1e-9) {
            return 0.0;
        }
        let third = self.m3 - 3.0 * self.m1 * self.m2 + 2.0 * self.m1 * self.m1 * self.m1;
        third / (sd * sd * sd)
    }

    /// The curve that answers questions about tails. Make it once, ask it often.
    pub fn curve(self) -> Curve {
        Curve { mean: self.mean(), sd: self.sd(), skew: self.skew() }
    }
}

/// The mean of e^(s u) where u lies between 0 and 1 and thins out evenly: 2 (e^s - 1 - s) / s².
fn thinning(s: f64) -> f64 {
    if s.abs() < 1e-2 {
        // Near zero the quotient loses its digits; the series has an error below 1e-13 here.
        return 1.0 + s / 3.0 + s * s / 12.0 + s.powi(3) / 60.0 + s.powi(4) / 360.0;
    }
    2.0 * (s.exp_m1() - s) / (s * s)
}

/// A Pearson III curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Curve {
    mean: f64,
    sd: f64,
    skew: f64,
}

impl Curve {
    /// Share below `x`.
    pub fn below(&self, x: f64) -> f64 {
        if self.sd <= 1e-9 * self.mean.abs().max(1e-9) {
            return if x < self.mean { 0.0 } else { 1.0 };
        }
        let t = (x - self.mean) / self.sd;
        if self.skew.abs() < 1e-3 {
            return phi(t);
        }
        let g = self.skew;
        let base = (0.5 * g * t + 1.0).max(0.0);
        phi((6.0 / g) * (base.cbrt() - 1.0) + g / 6.0)
    }

    /// The value below which a share `p` lies.
    pub fn quantile(&self, p: f64) -> f64 {
        let z = phi_inverse(p.clamp(1e-9, 1.0 - 1e-9));
        if self.skew.abs() < 1e-3 {
            return self.mean + self.sd * z;
        }
        let g = self.skew;
        let cube = (1.0 + g / 6.0 * (z - g / 6.0)).powi(3);
        self.mean + self.sd * (2.0 / g) * (cube - 1.0)
    }
}
