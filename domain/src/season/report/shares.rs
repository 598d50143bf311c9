//! Shares of fields, with how sure they are: what was advised and done, what lay in the window.

use serde::{Deserialize, Serialize};

use super::Named;
use crate::learning::{CoverClass, SoilGroup};
use crate::stats::wilson;

/// Fewest growers of a group that is set beside another.
pub const FEWEST_GROWERS: u32 = 5;

/// A share that was counted, with its 95 % interval (Wilson).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CountedShare {
    /// How many.
    pub count: u32,
    /// Of how many.
    pub of: u32,
    /// The share, 0 to 1.
    pub share: f64,
    /// Low limit.
    pub low: f64,
    /// High limit.
    pub high: f64,
}

impl CountedShare {
    /// A share; none of nothing.
    pub fn of(count: u32, of: u32) -> Option<Self> {
        let (part, all) = (f64::from(count), f64::from(of));
        let (low, high) = wilson(part, all, 0.95)?;
        Some(Self { count, of, share: part / all, low, high })
    }
}

/// What was advised, seen, applied and dug. A recommendation counts once, whatever its revisions.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Advice {
    /// Recommendations of which a revision was issued in the season.
    pub issued: u32,
    /// Revisions that were issued.
    pub revisions: u32,
    /// Recommendations of which whoever plants saw a revision.
    pub seen: Option<CountedShare>,
    /// Recommendations that were applied: a planting was reported, or somebody dug.
    pub applied: Option<CountedShare>,
    /// Recommendations behind which somebody dug.
    pub dug: Option<CountedShare>,
}

/// How many fields had load and depth in the window.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct InWindow {
    /// All fields.
    pub all: WindowShares,
    /// By soil, where more is known than nothing.
    pub by_soil: Vec<SoilShares>,
    /// By cover.
    pub by_cover: Vec<CoverShares>,
}

/// In the window at the first dig and at the last.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct WindowShares {
    /// Growers of these fields.
    pub growers: u32,
    /// Fields in which somebody dug.
    pub fields_dug: u32,
    /// In the window at the first dig, of the fields whose first dig tells.
    pub first_pass: Option<CountedShare>,
    /// In the window at the last dig, of the fields whose last dig tells and which were dug again
    /// after the first.
    pub dug_again: Option<CountedShare>,
    /// In the window at the last dig, of all fields whose last dig tells: after adjustment where
    /// there was one.
    pub after_adjustment: Option<CountedShare>,
    /// Whether fewer growers stand behind it than may be compared.
    pub few_growers: bool,
}

/// The shares of a soil.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SoilShares {
    /// The soil.
    pub soil: SoilGroup,
    /// Its shares.
    pub shares: WindowShares,
}

/// The shares of a cover.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CoverShares {
    /// The cover.
    pub cover: CoverClass,
    /// Its shares.
    pub shares: WindowShares,
}

/// All other growers of the practice, without a name.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Others {
    /// How many growers: five or more.
    pub growers: u32,
    /// Their shares.
    pub shares: WindowShares,
}

/// An advisor. Never ranked: by name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AdvisorLine {
    /// The advisor; none for growers that nobody looks after.
    pub advisor: Option<Named>,
    /// Growers.
    pub growers: u32,
    /// The figures; none where there are fewer growers than may be compared.
    pub shares: Option<WindowShares>,
}

#[cfg(test)]
mod tests {
    use super::CountedShare;

    #[test]
    fn a_share_of_nothing_is_none_and_the_interval_is_wilsons() {
        assert_eq!(CountedShare::of(0, 0), None);
        let share = CountedShare::of(18, 20).expect("a share");
        // R's binom.confint by way of the statsmodels tests: oracle T-O19.
        assert!((share.low - 0.698_966_354_771_512_8).abs() < 1e-9, "{share:?}");
        assert!((share.high - 0.972_133_518_786_232).abs() < 1e-9, "{share:?}");
    }
}
