//! Keys whose requests this process is carrying out.

use std::collections::HashSet;
use std::sync::atomic::{AtomicI64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use chrono::{DateTime, Utc};
use uuid::Uuid;

/// How often expired keys are swept out, in milliseconds.
const SWEPT_EVERY: i64 = 10 * 60 * 1000;

/// The keys whose requests this process is carrying out, and when it sweeps next.
///
/// Other processes are kept out by the database: PostgreSQL by a lock on the key, SQLite by having
/// one writer.
#[derive(Debug, Default)]
pub struct InFlight {
    keys: Arc<Mutex<HashSet<Uuid>>>,
    next_sweep: AtomicI64,
}

/// Holds a key until it is dropped, however the request ends: also by a panic or a caller who hangs
/// up.
#[derive(Debug)]
#[must_use]
pub(super) struct Held {
    keys: Arc<Mutex<HashSet<Uuid>>>,
    key: Uuid,
}

impl InFlight {
    /// Holds a key; `None` when it is held already.
    pub(super) fn hold(&self, key: Uuid) -> Option<Held> {
        let mut keys = self.keys.lock().unwrap_or_else(PoisonError::into_inner);
        keys.insert(key).then(|| Held { keys: self.keys.clone(), key })
    }

    /// Whether it is time to sweep; says so to one asker only.
    pub(super) fn sweep_is_due(&self, now: DateTime<Utc>) -> bool {
        let (now, due) = (now.timestamp_millis(), self.next_sweep.load(Ordering::Relaxed));
        let next = now.saturating_add(SWEPT_EVERY);
        now >= due
            && self
                .next_sweep
                .compare_exchange(due, next, Ordering::Relaxed, Ordering::Relaxed)
                .is_ok()
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        self.keys.lock().unwrap_or_else(PoisonError::into_inner).remove(&self.key);
    }
}

#[cfg(test)]
mod tests {
    use super::InFlight;
    use chrono::TimeDelta;
    use uuid::Uuid;

    #[test]
    fn a_key_is_held_once_until_it_is_dropped_even_by_a_panic() {
        let keys = InFlight::default();
        let (one, other) = (Uuid::from_u128(1), Uuid::from_u128(2));
        let held = keys.hold(one).expect("free");
        assert!(keys.hold(one).is_none());
        assert!(keys.hold(other).is_some());
        drop(held);
        let held = keys.hold(one).expect("free again");
        let panicked = std::panic::catch_unwind(std::panic::AssertUnwindSafe(move || {
            let _held = held;
            panic!("a handler breaks");
        }));
        assert!(panicked.is_err());
        assert!(keys.hold(one).is_some());
    }

    #[test]
    fn sweeping_is_due_once_in_ten_minutes() {
        let keys = InFlight::default();
        let now = "2027-04-20T12:00:00Z".parse().expect("time");
        assert!(keys.sweep_is_due(now));
        assert!(!keys.sweep_is_due(now));
        assert!(!keys.sweep_is_due(now + TimeDelta::minutes(9)));
        assert!(keys.sweep_is_due(now + TimeDelta::minutes(10)));
    }
}
