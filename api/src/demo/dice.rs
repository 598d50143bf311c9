//! Chance that tells the same story each time.
//!
//! Each draw depends only on the words it is drawn for, not on how many draws came before, so that
//! a change to one field leaves all the others as they were.

use domain::stats::phi_inverse;

/// A stream of draws for one purpose.
#[derive(Debug, Clone)]
pub(super) struct Dice(u64);

impl Dice {
    /// The stream for some words, such as `field 12 soil`.
    pub(super) fn of(words: &str) -> Self {
        // FNV-1a, then the steps of SplitMix64: enough to make up a story, not for secrets.
        let hash = words.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
        });
        Self(hash)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Evenly between 0 and 1, never 0 or 1.
    pub(super) fn share(&mut self) -> f64 {
        let top = u32::try_from(self.next() >> 32).unwrap_or(u32::MAX);
        (f64::from(top) + 0.5) / 4_294_967_296.0
    }

    /// Evenly between two values.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Normally around 0 with a standard deviation.
    pub(super) fn scatter(&mut self, sd: f64) -> f64 {
        sd * phi_inverse(self.share())
    }

    /// True for this share of the draws.
    pub(super) fn happens(&mut self, share: f64) -> bool {
        self.share() < share
    }

    /// A whole number from 0 up to, not including, `sides`; 0 when there are none.
    pub(super) fn pick(&mut self, sides: usize) -> usize {
        let sides = u64::try_from(sides).unwrap_or(1).max(1);
        usize::try_from((self.next() >> 16) % sides).unwrap_or(0)
    }

    /// Triangular between the ends of a range, most often near `likely`.
    pub(super) fn triangular(&mut self, low: f64, likely: f64, high: f64) -> f64 {
        let p = self.share();
        let peak = (likely - low) / (high - low);
        if p < peak {
            low + (p * (high - low) * (likely - low)).sqrt()
        } else {
            high - ((1.0 - p) * (high - low) * (high - likely)).sqrt()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Dice;

    #[test]
    fn the_same_words_give_the_same_draws_and_others_do_not() {
        let draws = |words: &str| {
            let mut dice = Dice::of(words);
            [dice.share(), dice.share(), dice.share()].map(f64::to_bits)
        };
        assert_eq!(draws("field 1"), draws("field 1"));
        assert_ne!(draws("field 1"), draws("field 2"));
    }

    #[test]
    fn draws_have_the_middle_and_spread_they_are_asked_for() {
        let mut dice = Dice::of("spread");
        let draws: Vec<f64> = (0..4000).map(|_| dice.scatter(2.0)).collect();
        let mean = domain::stats::mean(&draws).expect("draws");
        let sd = domain::stats::sd(&draws).expect("draws");
        assert!(mean.abs() < 0.15, "{mean}");
        assert!((sd - 2.0).abs() < 0.1, "{sd}");
        let low = (0..4000).map(|_| dice.triangular(1.0, 2.0, 5.0)).fold(f64::MAX, f64::min);
        let high = (0..4000).map(|_| dice.triangular(1.0, 2.0, 5.0)).fold(0.0, f64::max);
        assert!(low > 1.0 && low < 1.2 && high < 5.0 && high > 4.6, "{low} {high}");
        let sides: Vec<usize> = (0..4000).map(|_| dice.pick(3)).collect();
        assert!((0..3).all(|side| sides.iter().filter(|s| **s == side).count() > 1200));
    }
}
