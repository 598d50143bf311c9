//! How long to wait before the next try.

use chrono::TimeDelta;

/// After the first failure.
const FIRST: i64 = 30_000;
/// At most.
const MOST: i64 = 6 * 3_600_000;

/// The wait after this many attempts: it doubles, and is up to half shorter or longer by chance, so
/// that what failed together does not come back together.
pub(super) fn wait_after(attempts: i32) -> TimeDelta {
    let doublings = u32::try_from(attempts.saturating_sub(1)).unwrap_or(0).min(20);
    let wait = FIRST.saturating_mul(2_i64.saturating_pow(doublings)).min(MOST);
    let thousandths = rand::random_range(500..1500_i64);
    TimeDelta::milliseconds(wait.saturating_mul(thousandths) / 1000)
}

#[cfg(test)]
mod tests {
    use super::wait_after;
    use chrono::TimeDelta;
    use std::collections::BTreeSet;

    #[test]
    fn it_doubles_within_bounds_and_is_not_the_same_twice() {
        for (attempts, middle) in [(1, 30), (2, 60), (3, 120), (8, 3840), (40, 21_600)] {
            let waits: BTreeSet<TimeDelta> = (0..200).map(|_| wait_after(attempts)).collect();
            let (least, most) = (waits.first().expect("some"), waits.last().expect("some"));
            assert!(*least >= TimeDelta::milliseconds(middle * 500), "{attempts}: {least}");
            assert!(*most < TimeDelta::milliseconds(middle * 1500), "{attempts}: {most}");
            assert!(waits.len() > 100);
        }
    }
}
