//! Texts from outside: trimmed, bounded, without control characters (which no database column,
//! log line or sheet of paper can carry).

use super::member::BadMember;

/// Most characters of a name.
pub const NAME_MOST: usize = 120;
/// Most characters of a note.
pub const NOTES_MOST: usize = 4000;
/// Most characters of a telephone number, as people write it.
pub const PHONE_MOST: usize = 40;
/// Most characters of an e-mail address (RFC 5321, section 4.5.3.1.3, less the brackets).
pub const EMAIL_MOST: usize = 254;

/// The pattern of a one-line text for the API document: something to read, no control characters.
pub const LINE_PATTERN: &str =
    r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$";
/// The pattern of an e-mail address for the API document.
pub const EMAIL_PATTERN: &str = r"^[^@\s\x00-\x1F\x7F-\x9F]+@[^@\s\x00-\x1F\x7F-\x9F]+$";

/// A name: one line of 1 to 120 characters, trimmed.
pub fn name(pointer: &str, given: &str) -> Result<String, BadMember> {
    line(pointer, given, NAME_MOST)
}

/// A telephone number as people write it: one line of 1 to 40 characters, trimmed.
pub fn phone(pointer: &str, given: &str) -> Result<String, BadMember> {
    line(pointer, given, PHONE_MOST)
}

/// One line of 1 to `most` characters, trimmed.
pub fn line(pointer: &str, given: &str, most: usize) -> Result<String, BadMember> {
    let text = given.trim();
    if text.is_empty() {
        return Err(bad(pointer, given, "The text is empty.", most));
    }
    if text.chars().any(char::is_control) {
        return Err(bad(
            pointer,
            given,
            "The text holds a line break or a control character.",
            most,
        ));
    }
    if given.chars().count() > most {
        return Err(bad(pointer, given, "The text is too long.", most));
    }
    Ok(text.to_owned())
}

/// A note: any lines, at most 4000 characters in all.
pub fn notes(pointer: &str, given: &str) -> Result<String, BadMember> {
    let allowed = |letter: char| !letter.is_control() || matches!(letter, '\n' | '\r' | '\t');
    if !given.chars().all(allowed) {
        return Err(BadMember::new(pointer, "The text holds a control character.")
            .allowed("text, line breaks and tabs"));
    }
    if given.chars().count() > NOTES_MOST {
        return Err(BadMember::new(pointer, "The text is too long.")
            .given(format!("{} characters", given.chars().count()))
            .allowed(format!("at most {NOTES_MOST} characters")));
    }
    Ok(given.to_owned())
}

/// An e-mail address in lower case. Whether mail arrives there is not checked.
pub fn email(pointer: &str, given: &str) -> Result<String, BadMember> {
    let text = given.trim().to_lowercase();
    let shaped = text
        .split_once('@')
        .is_some_and(|(local, host)| !local.is_empty() && !host.is_empty() && !host.contains('@'));
    let clean = !text.chars().any(|letter| letter.is_whitespace() || letter.is_control());
    if shaped && clean && text.chars().count() <= EMAIL_MOST {
        Ok(text)
    } else {
        Err(BadMember::new(pointer, "This is not an e-mail address.")
            .given(given)
            .allowed(format!("name@host, at most {EMAIL_MOST} characters")))
    }
}

fn bad(pointer: &str, given: &str, detail: &str, most: usize) -> BadMember {
    BadMember::new(pointer, detail)
        .given(given.escape_debug())
        .allowed(format!("one line of 1 to {most} characters"))
}

#[cfg(test)]
mod tests {
    use super::{email, name, notes};

    #[test]
    fn a_name_is_one_line() {
        assert_eq!(name("/name", "  North forty ").as_deref(), Ok("North forty"));
        for bad in ["", "   ", "a\nb", "a\0b", &"x".repeat(121)] {
            assert!(name("/name", bad).is_err(), "{bad:?}");
        }
    }

    #[test]
    fn notes_may_have_lines_but_no_nul() {
        assert!(notes("/notes", "a\n\tb").is_ok());
        assert!(notes("/notes", "a\0b").is_err());
        assert!(notes("/notes", &"x".repeat(4001)).is_err());
    }

    #[test]
    fn an_address_is_lower_case() {
        assert_eq!(email("/email", "Ann@Farm.example").as_deref(), Ok("ann@farm.example"));
        for bad in ["", "ann", "@", "a@", "@b", "a b@c", "a@b@c"] {
            assert!(email("/email", bad).is_err(), "{bad:?}");
        }
    }
}
