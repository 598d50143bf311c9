//! How often the database is asked for a key that nobody here knows.

use std::collections::HashSet;
use std::sync::{Mutex, PoisonError};

use chrono::{DateTime, TimeDelta, Utc};

/// Least time between two looks.
pub(super) const PAUSE: TimeDelta = TimeDelta::seconds(10);
/// Most names remembered, so that a flood of made-up ones can't fill the memory.
const MOST: usize = 1000;

/// Names that were looked for in vain, and when the last look was.
#[derive(Debug, Default)]
pub(super) struct Looks(Mutex<Noted>);

#[derive(Debug, Default)]
struct Noted {
    last: Option<DateTime<Utc>>,
    unknown: HashSet<String>,
}

impl Looks {
    /// Whether a look for this name is allowed; if so it counts as done.
    pub(super) fn may_look(&self, kid: &str, now: DateTime<Utc>) -> bool {
        let mut noted = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let rests = noted.last.is_some_and(|last| (now - last).abs() < PAUSE);
        if rests || noted.unknown.contains(kid) {
            return false;
        }
        noted.last = Some(now);
        true
    }

    /// Remembers a name that is not there.
    pub(super) fn note_unknown(&self, kid: &str) {
        let mut noted = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if noted.unknown.len() >= MOST {
            noted.unknown.clear();
        }
        noted.unknown.insert(kid.to_owned());
    }

    /// Forgets the names: the keys were read anew.
    pub(super) fn forget(&self) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).unknown.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::{Looks, MOST, PAUSE};
    use chrono::{DateTime, TimeDelta, Utc};

    #[test]
    fn a_flood_of_names_gets_one_look_in_a_pause_and_a_name_only_one_ever() {
        let looks = Looks::default();
        let start: DateTime<Utc> = "2027-04-20T12:00:00Z".parse().expect("time");
        assert!(looks.may_look("a", start));
        looks.note_unknown("a");
        let flood = (0..100).filter(|n| looks.may_look(&n.to_string(), start)).count();
        assert_eq!(flood, 0);
        let later = start + PAUSE;
        assert!(!looks.may_look("a", later), "it was looked for in vain");
        assert!(looks.may_look("b", later));
        looks.forget();
        assert!(looks.may_look("a", later + PAUSE));
    }

    #[test]
    fn the_memory_is_bounded() {
        let looks = Looks::default();
        for n in 0..=MOST {
            looks.note_unknown(&n.to_string());
        }
        let start: DateTime<Utc> = "2027-04-20T12:00:00Z".parse().expect("time");
        assert!(looks.may_look("0", start));
        assert!(!looks.may_look(&MOST.to_string(), start + TimeDelta::hours(1)));
    }
}
