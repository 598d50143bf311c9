//! Practices whose seasons are still being counted: a report of half the rows would be a wrong one.

use std::collections::BTreeSet;
use std::sync::{PoisonError, RwLock};

use uuid::Uuid;

use crate::http::{ApiError, ProblemCode};

/// When to ask again, in seconds.
const AGAIN_AFTER: u64 = 5;

/// The practices that have rows from before seasons were kept, or rows that came past the service.
#[derive(Debug, Default)]
pub struct Counting(RwLock<BTreeSet<Uuid>>);

impl Counting {
    /// These are to be counted.
    pub fn of(practices: impl IntoIterator<Item = Uuid>) -> Self {
        Self(RwLock::new(practices.into_iter().collect()))
    }

    /// Those that are left.
    pub(super) fn left(&self) -> Vec<Uuid> {
        self.0.read().unwrap_or_else(PoisonError::into_inner).iter().copied().collect()
    }

    /// This one is counted.
    pub(super) fn counted(&self, practice_id: Uuid) {
        self.0.write().unwrap_or_else(PoisonError::into_inner).remove(&practice_id);
    }

    /// # Errors
    /// 503 while the seasons of the practice are being counted.
    pub fn check(&self, practice_id: Uuid) -> Result<(), ApiError> {
        if !self.0.read().unwrap_or_else(PoisonError::into_inner).contains(&practice_id) {
            return Ok(());
        }
        let detail =
            "The seasons are being counted for the first time. Try again in a few seconds.";
        Err(ApiError::try_later(ProblemCode::Unavailable, detail, AGAIN_AFTER))
    }
}

#[cfg(test)]
mod tests {
    use super::{Counting, ProblemCode};
    use uuid::Uuid;

    #[test]
    fn a_practice_waits_until_it_is_counted_and_holds_up_no_other() {
        let (one, other) = (Uuid::from_u128(1), Uuid::from_u128(2));
        let counting = Counting::of([one]);
        assert_eq!(counting.check(one).expect_err("waits").code(), ProblemCode::Unavailable);
        assert!(counting.check(other).is_ok());
        assert_eq!(counting.left(), [one]);
        counting.counted(one);
        assert!(counting.check(one).is_ok() && counting.left().is_empty());
    }
}
