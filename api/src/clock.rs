//! The time, as something a test or the demo can set.

use std::fmt::Debug;
use std::sync::{LazyLock, Mutex, PoisonError};
use std::time::{Duration, Instant};

use chrono::{DateTime, SubsecRound, TimeDelta, Utc};

/// Tells the time in UTC, to the millisecond (both databases keep that much).
pub trait Clock: Debug + Send + Sync {
    /// The time now.
    fn now(&self) -> DateTime<Utc>;

    /// The time since some moment in the past, for measuring how much later it is: it never goes
    /// back, even where the clock was put right.
    fn elapsed(&self) -> Duration {
        Duration::from_millis(u64::try_from(self.now().timestamp_millis()).unwrap_or_default())
    }
}

/// The computer's clock. The only place that asks for it.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemClock;

impl Clock for SystemClock {
    #[expect(clippy::disallowed_methods, reason = "the one place that reads the real clock")]
    fn now(&self) -> DateTime<Utc> {
        Utc::now().trunc_subsecs(3)
    }

    fn elapsed(&self) -> Duration {
        static START: LazyLock<Instant> = LazyLock::new(Instant::now);
        START.elapsed()
    }
}

/// A clock that stands still until it is set or moved on.
#[derive(Debug)]
pub struct FixedClock(Mutex<DateTime<Utc>>);

impl FixedClock {
    /// A clock that stands at `time`.
    pub fn new(time: DateTime<Utc>) -> Self {
        Self(Mutex::new(time.trunc_subsecs(3)))
    }

    /// Puts the clock to `time`.
    pub fn set(&self, time: DateTime<Utc>) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = time.trunc_subsecs(3);
    }

    /// Moves the clock on by `step`; a step that leaves the calendar changes nothing.
    pub fn advance(&self, step: TimeDelta) {
        let mut now = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(later) = now.checked_add_signed(step) {
            *now = later;
        }
    }
}

impl Clock for FixedClock {
    fn now(&self) -> DateTime<Utc> {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
