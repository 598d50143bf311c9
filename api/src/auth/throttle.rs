//! Slows down guessing of passwords: after a few wrong ones an e-mail address has to wait.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use chrono::{DateTime, TimeDelta, Utc};

/// Wrong passwords within the window before an address has to wait.
pub const TRIES: usize = 5;
/// Length of the window, in minutes.
pub const WINDOW_MINUTES: i64 = 15;
/// Most addresses remembered, so that a flood of made-up ones can't fill the memory.
const MOST_ADDRESSES: usize = 10_000;

/// Remembers wrong passwords by e-mail address, in this process.
#[derive(Debug, Default)]
pub struct SignInThrottle(Mutex<HashMap<String, Vec<DateTime<Utc>>>>);

impl SignInThrottle {
    /// How many seconds this address has to wait; `None` when it may try.
    pub fn wait(&self, email: &str, now: DateTime<Utc>) -> Option<u64> {
        let failures = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let window = TimeDelta::minutes(WINDOW_MINUTES);
        let recent: Vec<_> = failures.get(email)?.iter().filter(|at| now - **at < window).collect();
        if recent.len() < TRIES {
            return None;
        }
        let oldest = **recent.get(recent.len() - TRIES)?;
        u64::try_from((oldest + window - now).num_seconds().max(1)).ok()
    }

    /// Notes a wrong password.
    pub fn note_failure(&self, email: &str, now: DateTime<Utc>) {
        let mut failures = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let window = TimeDelta::minutes(WINDOW_MINUTES);
        if failures.len() >= MOST_ADDRESSES {
            failures.retain(|_, times| times.iter().any(|at| now - *at < window));
        }
        if failures.len() >= MOST_ADDRESSES && !failures.contains_key(email) {
            return;
        }
        let times = failures.entry(email.to_owned()).or_default();
        times.retain(|at| now - *at < window);
        times.push(now);
    }

    /// Forgets the failures of an address that signed in.
    pub fn forget(&self, email: &str) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).remove(email);
    }
}

#[cfg(test)]
mod tests {
    use super::{SignInThrottle, TRIES, WINDOW_MINUTES};
    use chrono::{DateTime, TimeDelta, Utc};

    #[test]
    fn an_address_waits_after_five_wrong_passwords_and_no_longer_than_the_window() {
        let throttle = SignInThrottle::default();
        let start: DateTime<Utc> = "2027-04-20T12:00:00Z".parse().expect("time");
        for _ in 0..TRIES {
            assert_eq!(throttle.wait("a@b", start), None);
            throttle.note_failure("a@b", start);
        }
        assert_eq!(throttle.wait("a@b", start), Some(900));
        assert_eq!(throttle.wait("c@d", start), None);
        let later = start + TimeDelta::minutes(WINDOW_MINUTES);
        assert_eq!(throttle.wait("a@b", later), None);
        throttle.forget("a@b");
        assert_eq!(throttle.wait("a@b", start), None);
    }
}
