//! Positions over the wire: sealed, so that one of another practice is refused and not read past.

use uuid::Uuid;

use crate::http::BadMember;
use crate::http::cursor::Walk;

/// The word for the end of the feed as it is now.
const NOW: &str = "now";

/// Where a reader wants to begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum After {
    /// After this position; 0 is the beginning.
    Position(i64),
    /// After all that is there now.
    Now,
}

/// A position as `after`.
pub fn seal(practice_id: Uuid, position: i64) -> String {
    feed(practice_id).seal(&position.to_be_bytes())
}

/// The place that `after` names; the beginning when it is absent.
///
/// # Errors
/// When it is none of this practice's feed.
pub fn open(practice_id: Uuid, pointer: &str, after: Option<&str>) -> Result<After, BadMember> {
    match after {
        None => Ok(After::Position(0)),
        Some(NOW) => Ok(After::Now),
        Some(cursor) => position(practice_id, cursor)
            .map(After::Position)
            .ok_or_else(|| refused(pointer, cursor)),
    }
}

/// The place is none that this feed gave out.
pub(super) fn refused(pointer: &str, cursor: &str) -> BadMember {
    BadMember::new(pointer, "This is not a place in the changes of this practice.")
        .given(cursor)
        .allowed(
            "`next_after` of an earlier page of this practice, `now`, or nothing for the beginning",
        )
        .why("reading on from a wrong place would miss changes")
}

fn position(practice_id: Uuid, cursor: &str) -> Option<i64> {
    let place = feed(practice_id).open(cursor).ok()?;
    let position = i64::from_be_bytes(place.try_into().ok()?);
    (position >= 0).then_some(position)
}

fn feed(practice_id: Uuid) -> Walk {
    Walk::of_feed("/v1/changes", practice_id)
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::{After, open, seal};

    #[test]
    fn a_place_is_good_for_its_practice_only() {
        let (ours, theirs) = (Uuid::from_u128(1), Uuid::from_u128(2));
        for position in [0, 1, i64::MAX] {
            let cursor = seal(ours, position);
            assert_eq!(open(ours, "?after", Some(&cursor)), Ok(After::Position(position)));
            let refused = open(theirs, "?after", Some(&cursor)).expect_err("another practice's");
            assert_eq!(refused.pointer, "?after");
        }
        assert_eq!(open(ours, "?after", Some("now")), Ok(After::Now));
        assert_eq!(open(ours, "?after", None), Ok(After::Position(0)));
        for wrong in ["", "0", "1", "NOW", "now ", "AAAA", &seal(ours, -1)] {
            assert!(open(ours, "?after", Some(wrong)).is_err(), "{wrong}");
        }
    }
}
