//! Cursors: a place in one list, sealed so that it is good for that list only.
//!
//! A cursor carries a checksum over the practice, the path, the filters and the place. It finds
//! slips: a cursor of another list, of other filters, of another practice, or one that was changed
//! on the way. It is no secret and need not be: a place gives nothing away, since every query starts
//! from the caller's scope.

use actix_web::HttpRequest;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::member::BadMember;

/// Longest cursor that is worth reading.
pub const LONGEST: usize = 120;
/// Length of the checksum.
const CHECKSUM: usize = 8;
/// Parameters that say how a page looks, not which rows are in the list.
const FREE: &[&str] = &["cursor", "limit", "units", "count"];

/// Which list is walked: its path, its filters, the practice.
#[derive(Debug, Clone)]
pub struct Walk(Sha256);

impl Walk {
    /// The list that is asked for, in this practice.
    pub fn of(request: &HttpRequest, practice_id: Uuid) -> Self {
        let mut filters: Vec<(String, String)> =
            form_urlencoded::parse(request.query_string().as_bytes())
                .filter(|(name, _)| !FREE.contains(&name.as_ref()))
                .map(|(name, value)| (name.into_owned(), value.into_owned()))
                .collect();
        filters.sort();
        let mut whole = Sha256::new();
        whole.update(b"cursor 1");
        whole.update(practice_id.as_bytes());
        add(&mut whole, request.path());
        for (name, value) in &filters {
            add(&mut whole, name);
            add(&mut whole, value);
        }
        Self(whole)
    }

    /// A feed of this practice: the same whatever is left out of it, so that one place serves all who
    /// follow.
    pub fn of_feed(path: &str, practice_id: Uuid) -> Self {
        let mut whole = Sha256::new();
        whole.update(b"feed 1");
        whole.update(practice_id.as_bytes());
        add(&mut whole, path);
        Self(whole)
    }

    /// The cursor for a place.
    pub fn seal(&self, place: &[u8]) -> String {
        let mut bytes = place.to_vec();
        bytes.extend(self.checksum(place));
        URL_SAFE_NO_PAD.encode(bytes)
    }

    /// The place of a cursor of this list.
    ///
    /// # Errors
    /// When it is none of this list.
    pub fn open(&self, cursor: &str) -> Result<Vec<u8>, BadMember> {
        self.opened(cursor).ok_or_else(|| refused(cursor))
    }

    fn opened(&self, cursor: &str) -> Option<Vec<u8>> {
        if cursor.len() > LONGEST {
            return None;
        }
        let bytes = URL_SAFE_NO_PAD.decode(cursor).ok()?;
        let (place, checksum) = bytes.split_at_checked(bytes.len().checked_sub(CHECKSUM)?)?;
        (checksum == self.checksum(place)).then(|| place.to_vec())
    }

    fn checksum(&self, place: &[u8]) -> [u8; CHECKSUM] {
        let whole: [u8; 32] = self.0.clone().chain_update(place).finalize().into();
        whole.first_chunk().copied().unwrap_or_default()
    }
}

/// The cursor is none of this list.
pub fn refused(cursor: &str) -> BadMember {
    BadMember::new("?cursor", "This is not a cursor of an earlier page of this list.")
        .given(cursor)
        .allowed("`next_cursor` of the page before, with the same filters")
}

/// Each part with its length, so that no two lists look alike.
fn add(whole: &mut Sha256, part: &str) {
    whole.update(part.len().to_be_bytes());
    whole.update(part.as_bytes());
}

#[cfg(test)]
mod tests {
    use super::Walk;
    use actix_web::test::TestRequest;
    use uuid::Uuid;

    fn walk(address: &str, practice: u128) -> Walk {
        let request = TestRequest::with_uri(address).to_http_request();
        Walk::of(&request, Uuid::from_u128(practice))
    }

    #[test]
    fn a_cursor_is_good_for_its_own_list_whatever_the_form_of_the_page() {
        let cursor = walk("/v1/farms?grower_id=a&limit=2", 1).seal(b"place");
        for same in [
            "/v1/farms?grower_id=a&limit=50",
            "/v1/farms?limit=2&cursor=x&units=si&count=true&grower_id=a",
            "/v1/farms?grower_id=%61",
        ] {
            assert_eq!(walk(same, 1).open(&cursor).expect(same), b"place");
        }
    }

    #[test]
    fn a_cursor_of_another_list_filter_or_practice_is_refused() {
        let cursor = walk("/v1/farms?grower_id=a", 1).seal(b"place");
        for other in [
            "/v1/fields?grower_id=a",
            "/v1/farms",
            "/v1/farms?grower_id=b",
            "/v1/farms?grower_id=a&name=b",
            "/v1/farms?grower_i=da",
        ] {
            assert!(walk(other, 1).open(&cursor).is_err(), "{other}");
        }
        let refused = walk("/v1/farms?grower_id=a", 2).open(&cursor).expect_err("refused");
        assert_eq!(refused.pointer, "?cursor");
    }

    #[test]
    fn a_cursor_that_was_changed_anywhere_is_refused() {
        let walk = walk("/v1/farms", 1);
        let cursor = walk.seal(b"place");
        for at in 0..cursor.len() {
            let mut changed: Vec<char> = cursor.chars().collect();
            changed[at] = if changed[at] == 'A' { 'B' } else { 'A' };
            let changed: String = changed.into_iter().collect();
            assert!(walk.open(&changed).is_err(), "{changed}");
        }
        let long = "A".repeat(1000);
        let first = cursor.chars().next().expect("a letter");
        for text in
            ["", "A", "AAAA", cursor.trim_start_matches(first), "?!", &format!("{cursor}A"), &long]
        {
            assert!(walk.open(text).is_err(), "{text}");
        }
    }
}
