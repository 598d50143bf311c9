//! Slows down guessing of passwords: after a few wrong ones an e-mail address has to wait, and
//! after more of them the network that they come from.
//!
//! What is remembered is in this process: each of several processes counts for itself.

use std::collections::HashMap;
use std::hash::Hash;
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};

use chrono::{DateTime, TimeDelta, Utc};

/// Wrong passwords within the window before an address has to wait.
pub const TRIES: usize = 5;
/// Length of the window, in minutes.
pub const WINDOW_MINUTES: i64 = 15;
/// Most addresses or networks remembered, so that a flood of made-up ones can't fill the memory.
const MOST: usize = 10_000;

/// Remembers tries to sign in, by e-mail address and by network.
#[derive(Debug)]
pub struct SignInThrottle {
    by_address: Tries<String>,
    by_network: Tries<IpAddr>,
}

impl SignInThrottle {
    /// A throttle that takes so many wrong tries from a network within the window.
    pub fn new(tries_of_a_network: usize) -> Self {
        Self { by_address: Tries::of(TRIES), by_network: Tries::of(tries_of_a_network) }
    }

    /// Begins a try with the password of an address. It counts as wrong until it
    /// [succeeds](Self::succeeded): so many tries at once are no way round the limit.
    ///
    /// # Errors
    /// The seconds to wait before the next try.
    pub fn begin(&self, email: &str, network: IpAddr, now: DateTime<Utc>) -> Result<(), u64> {
        self.begin_from(network, now)?;
        self.by_address.begin(email.to_owned(), now)
    }

    /// Begins a try with a secret that belongs to no address.
    ///
    /// # Errors
    /// The seconds to wait before the next try.
    pub fn begin_from(&self, network: IpAddr, now: DateTime<Utc>) -> Result<(), u64> {
        self.by_network.begin(network, now)
    }

    /// The password was right: the wrong ones before it are forgotten, but not what else the
    /// network tried.
    pub fn succeeded(&self, email: &str, network: IpAddr, now: DateTime<Utc>) {
        self.by_address.forget(&email.to_owned());
        self.succeeded_from(network, now);
    }

    /// The secret was right.
    pub fn succeeded_from(&self, network: IpAddr, now: DateTime<Utc>) {
        self.by_network.take_back(&network, now);
    }
}

/// Tries by whatever they are counted by.
#[derive(Debug)]
struct Tries<K> {
    allowed: usize,
    noted: Mutex<HashMap<K, Vec<DateTime<Utc>>>>,
}

impl<K: Hash + Eq + Clone> Tries<K> {
    fn of(allowed: usize) -> Self {
        Self { allowed, noted: Mutex::default() }
    }

    fn begin(&self, key: K, now: DateTime<Utc>) -> Result<(), u64> {
        let mut noted = self.noted.lock().unwrap_or_else(PoisonError::into_inner);
        let window = TimeDelta::minutes(WINDOW_MINUTES);
        if noted.len() >= MOST && !noted.contains_key(&key) {
            make_room(&mut noted, now - window);
        }
        let times = noted.entry(key).or_default();
        times.retain(|at| now - *at < window);
        if times.len() < self.allowed {
            times.push(now);
            return Ok(());
        }
        let oldest = times.first().copied().unwrap_or(now);
        Err(u64::try_from((oldest + window - now).num_seconds()).unwrap_or(0).max(1))
    }

    fn forget(&self, key: &K) {
        self.noted.lock().unwrap_or_else(PoisonError::into_inner).remove(key);
    }

    fn take_back(&self, key: &K, at: DateTime<Utc>) {
        let mut noted = self.noted.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(times) = noted.get_mut(key) else { return };
        if let Some(place) = times.iter().rposition(|time| *time == at) {
            times.remove(place);
        }
        if times.is_empty() {
            noted.remove(key);
        }
    }
}

/// Forgets what is over; if that is not enough, whoever tried longest ago.
fn make_room<K: Hash + Eq + Clone>(
    noted: &mut HashMap<K, Vec<DateTime<Utc>>>,
    before: DateTime<Utc>,
) {
    noted.retain(|_, times| times.last().is_some_and(|last| *last > before));
    if noted.len() < MOST {
        return;
    }
    let quiet = noted.iter().min_by_key(|(_, times)| times.last().copied());
    if let Some(quiet) = quiet.map(|(key, _)| key.clone()) {
        noted.remove(&quiet);
    }
}

#[cfg(test)]
mod tests {
    use super::{MOST, SignInThrottle, TRIES, Tries, WINDOW_MINUTES};
    use chrono::{DateTime, TimeDelta, Utc};
    use std::net::{IpAddr, Ipv4Addr};

    fn start() -> DateTime<Utc> {
        "2027-04-20T12:00:00Z".parse().expect("time")
    }

    fn network(last: u8) -> IpAddr {
        Ipv4Addr::new(192, 0, 2, last).into()
    }

    #[test]
    fn an_address_waits_after_five_wrong_passwords_and_no_longer_than_the_window() {
        let throttle = SignInThrottle::new(100);
        let begin = |email, at| throttle.begin(email, network(1), at);
        for _ in 0..TRIES {
            assert_eq!(begin("a@b", start()), Ok(()));
        }
        assert_eq!(begin("a@b", start()), Err(900));
        assert_eq!(begin("c@d", start()), Ok(()));
        let later = start() + TimeDelta::minutes(WINDOW_MINUTES);
        assert_eq!(begin("a@b", later), Ok(()));
    }

    #[test]
    fn the_right_password_forgets_the_wrong_ones_before_it() {
        let throttle = SignInThrottle::new(100);
        for _ in 1..TRIES {
            assert_eq!(throttle.begin("a@b", network(1), start()), Ok(()));
        }
        assert_eq!(throttle.begin("a@b", network(1), start()), Ok(()));
        throttle.succeeded("a@b", network(1), start());
        assert_eq!(throttle.begin("a@b", network(1), start()), Ok(()));
    }

    #[test]
    fn a_network_waits_whichever_addresses_it_tries_and_right_ones_do_not_count() {
        let throttle = SignInThrottle::new(8);
        for n in 0..8 {
            let right = format!("right{n}@b");
            assert_eq!(throttle.begin(&right, network(1), start()), Ok(()));
            throttle.succeeded(&right, network(1), start());
        }
        for n in 0..8 {
            assert_eq!(throttle.begin(&format!("{n}@b"), network(1), start()), Ok(()));
        }
        assert_eq!(throttle.begin("9@b", network(1), start()), Err(900));
        assert_eq!(throttle.begin_from(network(1), start()), Err(900));
        assert_eq!(throttle.begin("9@b", network(2), start()), Ok(()));
    }

    #[test]
    fn a_flood_of_addresses_does_not_fill_the_memory_and_pushes_out_the_oldest() {
        let tries = Tries::of(1);
        for n in 0..=MOST {
            let at = start() + TimeDelta::milliseconds(i64::try_from(n).expect("small"));
            assert_eq!(tries.begin(n, at), Ok(()));
        }
        assert_eq!(tries.noted.lock().expect("sound").len(), MOST);
        assert!(tries.begin(MOST, start() + TimeDelta::minutes(1)).is_err());
        assert_eq!(tries.begin(0, start() + TimeDelta::minutes(1)), Ok(()));
    }
}
