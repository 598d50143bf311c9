//! New ids: UUIDv7, so that ids made later sort later.

use std::sync::{Arc, Mutex, PoisonError};

use uuid::{ContextV7, Timestamp, Uuid};

use crate::clock::Clock;

/// Makes ids from the application's clock and random bits.
///
/// Ids of one process rise strictly, also while the clock stands still.
#[derive(Debug)]
pub struct Ids {
    clock: Arc<dyn Clock>,
    counter: Mutex<ContextV7>,
}

impl Ids {
    /// An id source that takes its time from `clock`.
    pub fn new(clock: Arc<dyn Clock>) -> Self {
        Self { clock, counter: Mutex::new(ContextV7::new()) }
    }

    /// The next id.
    pub fn next(&self) -> Uuid {
        let now = self.clock.now();
        let seconds = u64::try_from(now.timestamp()).unwrap_or(0);
        let counter = self.counter.lock().unwrap_or_else(PoisonError::into_inner);
        Uuid::new_v7(Timestamp::from_unix(&*counter, seconds, now.timestamp_subsec_nanos()))
    }
}

#[cfg(test)]
mod tests {
    use super::Ids;
    use crate::clock::FixedClock;
    use std::sync::Arc;

    #[test]
    fn ids_rise_while_the_clock_stands_still() {
        let time = "2027-04-20T12:00:00Z".parse().expect("time");
        let ids = Ids::new(Arc::new(FixedClock::new(time)));
        let made: Vec<_> = (0..2000).map(|_| ids.next()).collect();
        assert!(made.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(made.iter().all(|id| id.get_version_num() == 7));
    }
}
