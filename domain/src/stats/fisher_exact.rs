//! Whether a thing happens more often in one set of readings than in another.

use statrs::distribution::{Discrete, Hypergeometric};

/// Two-sided chance of counts so different, when `hits` in `of` are set against `other_hits` in
/// `other_of` and both come from one share (Fisher's exact test: the sum over all counts that are
/// no likelier than the one seen).
///
/// `None` when a count exceeds what it is out of, or when one side has no readings.
pub fn fisher_exact(hits: u32, of: u32, other_hits: u32, other_of: u32) -> Option<f64> {
    if hits > of || other_hits > other_of || of == 0 || other_of == 0 {
        return None;
    }
    let (both, all) =
        (u64::from(hits) + u64::from(other_hits), u64::from(of) + u64::from(other_of));
    let distribution = Hypergeometric::new(all, both, u64::from(of)).ok()?;
    let seen = distribution.pmf(u64::from(hits));
    let least = both.saturating_sub(u64::from(other_of));
    // A count that is as likely as the one seen belongs to it, whatever its last digits are.
    let p: f64 = (least..=both.min(u64::from(of)))
        .map(|n| distribution.pmf(n))
        .filter(|chance| *chance <= seen * (1.0 + 1e-7))
        .sum();
    p.is_finite().then_some(p.min(1.0))
}
