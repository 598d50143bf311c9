//! The name of a records system, and the ids that it gives.

use std::fmt;

use crate::http::BadMember;

/// Most characters of the name of a records system.
const SYSTEM_MOST: usize = 40;
/// Most characters of one of their ids.
pub const THEIR_ID_MOST: usize = 200;
/// The pattern of the name of a records system, for the API document.
pub const SYSTEM_PATTERN: &str = "^[a-z][a-z0-9-]{1,39}$";

/// The short name that a practice gives a records system. Ids are unique within it.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct System(String);

impl System {
    /// Checks the name at `pointer`: 2 to 40 small letters, digits and hyphens, a letter first.
    ///
    /// # Errors
    /// The member, when it is no such name.
    pub fn parse(pointer: &str, given: &str) -> Result<Self, BadMember> {
        let mut letters = given.bytes();
        let first = letters.next().is_some_and(|letter| letter.is_ascii_lowercase());
        let allowed =
            |letter: u8| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == b'-';
        if first && letters.all(allowed) && (2..=SYSTEM_MOST).contains(&given.len()) {
            return Ok(Self(given.to_owned()));
        }
        Err(BadMember::new(pointer, "This is no name of a records system.")
            .given(given.escape_debug())
            .allowed("2 to 40 small letters, digits and hyphens, a letter first"))
    }

    /// The name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for System {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Checks one of their ids at `pointer`: 1 to 200 characters, none of them a control character. It
/// is taken as it is; spaces and capitals count.
///
/// # Errors
/// The member, when it is no such id.
pub fn their_id(pointer: &str, given: &str) -> Result<(), BadMember> {
    let detail = if given.is_empty() {
        "The id is empty."
    } else if given.chars().any(char::is_control) {
        "The id holds a line break or a control character."
    } else if given.chars().count() > THEIR_ID_MOST {
        "The id is too long."
    } else {
        return Ok(());
    };
    Err(BadMember::new(pointer, detail)
        .given(given.escape_debug())
        .allowed(format!("1 to {THEIR_ID_MOST} characters")))
}

#[cfg(test)]
mod tests {
    use super::{System, their_id};

    #[test]
    fn a_system_is_a_short_plain_word() {
        for good in ["records", "r2", "farm-office-2"] {
            assert_eq!(System::parse("/system", good).expect("good").as_str(), good);
        }
        for bad in ["", "r", "Records", "2r", "-r", "a b", "a/b", "ä1", &"a".repeat(41)] {
            assert!(System::parse("/system", bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn their_ids_are_any_text_of_one_line() {
        for good in ["7", "a/b?c#d", "  ", "..", "Ä %2F", &"x".repeat(200), &"ß".repeat(200)] {
            assert!(their_id("/id", good).is_ok(), "{good}");
        }
        for bad in ["", "a\nb", "\0", &"x".repeat(201)] {
            assert!(their_id("/id", bad).is_err(), "{bad}");
        }
    }
}
