//! When a notice is tried again.

use chrono::TimeDelta;

/// The waits after each try, in seconds: 5 s, 5 min, 30 min, 2 h, 5 h, 10 h, 14 h, 20 h, 24 h, as Standard
/// Webhooks proposes. After the last one there is one more try.
const WAITS: [i64; 9] = [5, 300, 1800, 7200, 18_000, 36_000, 50_400, 72_000, 86_400];
/// How much longer a wait may be by chance, in thousandths.
const JITTER: i64 = 200;
/// The waits of a webhook after rounds in which nothing got through, in seconds: never longer than the wait of a
/// notice that failed as often.
const HOLDS: [i64; 4] = [5, 30, 60, 300];

/// How often a notice is tried: for a bit more than three days.
pub const MOST_ATTEMPTS: i32 = 10;
/// The longest that a receiver can ask us to stay away.
pub const LONGEST_HOLD: TimeDelta = TimeDelta::hours(24);
/// When nothing got through for so long, a webhook is stopped.
pub const PATIENCE: TimeDelta = TimeDelta::days(3);

/// The wait after this many tries; none when it was the last. It is up to a fifth longer by chance, so that what
/// failed together does not come back together.
pub fn wait_after(attempts: i32) -> Option<TimeDelta> {
    let tried = usize::try_from(attempts).ok()?;
    let seconds = WAITS.get(tried.checked_sub(1)?)?;
    let longer = rand::random_range(0..=JITTER);
    Some(TimeDelta::milliseconds(seconds.saturating_mul(1000 + longer)))
}

/// The wait of the whole webhook after this many rounds in which nothing got through.
pub(super) fn hold_after(failures: i32) -> TimeDelta {
    let nth = usize::try_from(failures).unwrap_or(0).clamp(1, HOLDS.len());
    TimeDelta::seconds(HOLDS.get(nth.saturating_sub(1)).copied().unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::{HOLDS, MOST_ATTEMPTS, PATIENCE, WAITS, hold_after, wait_after};
    use chrono::TimeDelta;
    use std::collections::BTreeSet;

    #[test]
    fn waits_follow_the_schedule_and_are_not_the_same_twice() {
        for (tried, seconds) in (1..).zip(WAITS) {
            let waits: BTreeSet<TimeDelta> = (0..200).filter_map(|_| wait_after(tried)).collect();
            let (least, most) = (waits.first().expect("some"), waits.last().expect("some"));
            assert!(*least >= TimeDelta::seconds(seconds), "{tried}: {least}");
            assert!(*most <= TimeDelta::milliseconds(seconds * 1200), "{tried}: {most}");
            assert!(waits.len() > 50);
        }
        assert_eq!(wait_after(MOST_ATTEMPTS), None);
        assert_eq!(wait_after(0), None);
        assert!(TimeDelta::seconds(WAITS.iter().sum()) > PATIENCE);
    }

    #[test]
    fn a_hold_is_never_longer_than_the_wait_of_one_notice() {
        for (failures, wait) in (1..).zip(WAITS) {
            assert!(hold_after(failures) <= TimeDelta::seconds(wait));
        }
        assert_eq!(hold_after(0), TimeDelta::seconds(HOLDS[0]));
        assert_eq!(hold_after(1000), TimeDelta::seconds(300));
    }
}
