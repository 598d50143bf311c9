//! Draws from a seed: the same seed gives the same layout for ever.
//!
//! Numbers come from `SplitMix64` (Steele, Lea and Flood 2014), whole numbers below a bound from them by
//! refusing the uneven end of the range, orders by the shuffle of Fisher and Yates. All three are
//! written out here, so that no other crate's next version can change a layout that hangs on a wall.
//! Whatever changes a draw is a new [`METHOD`].

/// The way in which layouts are drawn, with its version; kept with each layout.
pub const METHOD: &str = "splitmix64-shuffle-1";

/// A row of draws.
#[derive(Debug, Clone)]
pub struct Draws {
    state: u64,
}

impl Draws {
    /// The draws of this seed.
    pub fn of(seed: u32) -> Self {
        Self { state: u64::from(seed) }
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from 0 to below `end`, each as likely; 0 where there is none.
    pub fn below(&mut self, end: u64) -> u64 {
        if end < 2 {
            return 0;
        }
        // The last part of the range is too short to hold every remainder.
        let uneven = (u64::MAX % end + 1) % end;
        loop {
            let bits = self.bits();
            if bits <= u64::MAX - uneven {
                return bits % end;
            }
        }
    }

    /// One of two.
    pub fn coin(&mut self) -> bool {
        self.below(2) == 1
    }

    /// Puts the items into an order, each as likely.
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for left in (2..=items.len()).rev() {
            let end = u64::try_from(left).unwrap_or(u64::MAX);
            let drawn = usize::try_from(self.below(end)).unwrap_or(0);
            items.swap(left - 1, drawn);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::Draws;

    /// The reference numbers that come with the published C code, for the seed 1234567.
    #[test]
    fn the_numbers_are_those_of_the_reference() {
        let mut draws = Draws::of(1_234_567);
        let first: Vec<u64> = (0..5).map(|_| draws.bits()).collect();
        let reference: [u64; 5] = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(first, reference);
    }

    #[test]
    fn a_layout_of_last_year_comes_out_the_same() {
        let mut items = [0, 1, 2, 3, 4, 5, 6, 7];
        Draws::of(2027).shuffle(&mut items);
        assert_eq!(items, FROZEN, "whatever changes a draw is a new METHOD");
    }

    /// Worked out by an independent program of the same three rules.
    const FROZEN: [u8; 8] = [7, 3, 2, 6, 1, 5, 4, 0];

    #[test]
    fn every_order_of_three_is_as_likely() {
        let mut seen: BTreeMap<[u8; 3], u32> = BTreeMap::new();
        let mut draws = Draws::of(7);
        for _ in 0..6000 {
            let mut items = [1, 2, 3];
            draws.shuffle(&mut items);
            *seen.entry(items).or_default() += 1;
        }
        assert_eq!(seen.len(), 6);
        // Chi-square with 5 degrees of freedom: 20.5 is passed once in a thousand times.
        let chi: f64 = seen.values().map(|n| (f64::from(*n) - 1000.0).powi(2) / 1000.0).sum();
        assert!(chi < 20.5, "{seen:?}");
    }

    #[test]
    fn no_bound_is_passed() {
        let mut draws = Draws::of(u32::MAX);
        for end in [1_u64, 2, 3, 7, 72] {
            assert!((0..500).all(|_| draws.below(end) < end));
        }
        assert_eq!(draws.below(0), 0);
    }
}
