//! Pseudo-random numbers from a fixed seed, so that each run is the same (splitmix64, Steele, Lea
//! and Flood 2014).

use domain::provenance::Coefficient;
use domain::stats::phi_inverse;

#[derive(Debug, Clone)]
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice for one purpose of one field: what is drawn for one purpose moves nothing else.
    pub(crate) fn of(field: u64, purpose: u64) -> Self {
        let mut dice = Self(field.wrapping_mul(0xD6E8_FEB8_6659_FD93) ^ purpose.rotate_left(40));
        for _ in 0..3 {
            dice.bits();
        }
        dice
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Above 0 and below 1.
    pub(crate) fn share(&mut self) -> f64 {
        let [a, b, c, d, ..] = self.bits().to_be_bytes();
        (f64::from(u32::from_be_bytes([a, b, c, d])) + 0.5) / 2.0_f64.powi(32)
    }

    pub(crate) fn happens(&mut self, share: f64) -> bool {
        self.share() < share
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    pub(crate) fn normal(&mut self, sd: f64) -> f64 {
        sd * phi_inverse(self.share())
    }

    pub(crate) fn triangular(&mut self, low: f64, likely: f64, high: f64) -> f64 {
        let (p, at) = (self.share(), (likely - low) / (high - low));
        if p < at {
            low + (p * (high - low) * (likely - low)).sqrt()
        } else {
            high - ((1.0 - p) * (high - low) * (high - likely)).sqrt()
        }
    }

    pub(crate) fn of_range(&mut self, k: &Coefficient) -> f64 {
        self.triangular(k.low, k.value, k.high)
    }

    pub(crate) fn one_of<T: Copy>(&mut self, all: &[(T, f64)]) -> T {
        let mut left = self.share();
        for (one, share) in all {
            left -= share;
            if left < 0.0 {
                return *one;
            }
        }
        all[all.len() - 1].0
    }
}
