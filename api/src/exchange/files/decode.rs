//! Bytes to text: by the byte order mark, by the character set that the sender names, else UTF-8.
//! What can't be decoded for certain is refused; no encoding is guessed.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE};

use crate::http::BadMember;

/// A file as text.
#[derive(Debug, PartialEq, Eq)]
pub struct Decoded {
    /// The text, without a byte order mark.
    pub text: String,
    /// The encoding it was read as, by its name in the WHATWG Encoding Standard.
    pub encoding: &'static str,
}

/// Reads a file. `charset` is that of `Content-Type`.
///
/// # Errors
/// When there is no such character set, when it is another than that of the byte order mark, or when
/// bytes mean nothing in it.
pub fn decode(bytes: &[u8], charset: Option<&str>) -> Result<Decoded, BadMember> {
    let named = charset.map(by_name).transpose()?;
    let (encoding, rest) = match Encoding::for_bom(bytes) {
        Some((marked, length)) => {
            agree(marked, named)?;
            (marked, bytes.get(length..).unwrap_or_default())
        }
        None => (named.unwrap_or(UTF_8), bytes),
    };
    let text = encoding
        .decode_without_bom_handling_and_without_replacement(rest)
        .ok_or_else(|| undecodable(rest, encoding, charset.is_some()))?;
    match text.char_indices().find(|(_, letter)| is_no_text(*letter)) {
        Some((at, letter)) => Err(no_text(&text, at, letter, encoding)),
        None => Ok(Decoded { text: text.into_owned(), encoding: encoding.name() }),
    }
}

fn by_name(charset: &str) -> Result<&'static Encoding, BadMember> {
    let known = Encoding::for_label_no_replacement(charset.as_bytes());
    known.ok_or_else(|| {
        BadMember::new("", "There is no such character set.")
            .given(charset.escape_debug())
            .allowed("utf-8, utf-16le, utf-16be, windows-1252 or another of the WHATWG standard")
    })
}

/// `utf-16` alone names either order of its bytes.
fn agree(marked: &'static Encoding, named: Option<&'static Encoding>) -> Result<(), BadMember> {
    let either = |it: &'static Encoding| it == UTF_16LE || it == UTF_16BE;
    match named {
        Some(named) if named != marked && !(either(named) && either(marked)) => {
            let detail = format!(
                "The file begins with the mark of {}, and Content-Type says {}.",
                marked.name(),
                named.name()
            );
            Err(BadMember::new("", detail))
        }
        _ => Ok(()),
    }
}

fn undecodable(bytes: &[u8], encoding: &'static Encoding, named: bool) -> BadMember {
    if encoding != UTF_8 {
        let detail = format!("The file holds bytes that mean nothing in {}.", encoding.name());
        return BadMember::new("", detail);
    }
    let good = std::str::from_utf8(bytes).map_or_else(|error| error.valid_up_to(), str::len);
    let line = line_at(bytes.get(..good).unwrap_or_default());
    let detail = if named {
        format!("Line {line} is not UTF-8, which Content-Type says it is.")
    } else {
        format!("Line {line} is not UTF-8, and nothing says what else it is.")
    };
    let why = if bytes.contains(&0) {
        "it holds NUL bytes: it may be UTF-16 without its mark, charset=utf-16le or utf-16be"
    } else {
        "the same byte is another letter in each old character set, and none is guessed"
    };
    BadMember::new(format!("#line={line}"), detail)
        .allowed("UTF-8, UTF-16 with its mark, or a `charset` in Content-Type, as in text/csv; charset=windows-1252")
        .why(why)
}

fn is_no_text(letter: char) -> bool {
    letter.is_control() && !matches!(letter, '\t' | '\r' | '\n')
}

fn no_text(text: &str, at: usize, letter: char, encoding: &'static Encoding) -> BadMember {
    let line = line_at(text.as_bytes().get(..at).unwrap_or_default());
    let code = u32::from(letter);
    let detail = format!(
        "Line {line} holds the control character U+{code:04X}, read as {}.",
        encoding.name()
    );
    let bad = BadMember::new(format!("#line={line}"), detail);
    if letter == '\0' {
        bad.why("it may be UTF-16 without its mark: say charset=utf-16le in Content-Type")
    } else {
        bad.why("it may be another character set, or no text at all")
    }
}

fn line_at(before: &[u8]) -> usize {
    before.split(|byte| *byte == b'\n').count()
}

#[cfg(test)]
mod tests {
    use super::decode;

    fn text(bytes: &[u8], charset: Option<&str>) -> (String, &'static str) {
        let read = decode(bytes, charset).expect("text");
        (read.text, read.encoding)
    }

    #[test]
    fn marks_say_the_encoding() {
        assert_eq!(text("\u{feff}näme".as_bytes(), None), ("näme".to_owned(), "UTF-8"));
        let little: Vec<u8> = "\u{feff}näme".encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert_eq!(text(&little, None), ("näme".to_owned(), "UTF-16LE"));
        let big: Vec<u8> = "\u{feff}näme".encode_utf16().flat_map(u16::to_be_bytes).collect();
        assert_eq!(text(&big, Some("utf-16")), ("näme".to_owned(), "UTF-16BE"));
        assert!(decode(&big, Some("utf-8")).is_err(), "mark and name disagree");
    }

    #[test]
    fn an_old_character_set_must_be_named() {
        let bytes = b"name\nM\xfcller \x96 \x80";
        let refused = decode(bytes, None).expect_err("not certain");
        assert_eq!(refused.pointer, "#line=2");
        assert!(refused.allowed.expect("said").contains("windows-1252"));
        let read = text(bytes, Some("windows-1252"));
        assert_eq!(read, ("name\nMüller – €".to_owned(), "windows-1252"));
        assert_eq!(text(b"M\xfcller", Some("ISO-8859-1")).0, "Müller");
        assert_eq!(text("Müller".as_bytes(), Some("UTF-8")).0, "Müller");
    }

    #[test]
    fn what_means_nothing_is_refused() {
        let bare: Vec<u8> = "name".encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert!(decode(&bare, None).expect_err("NUL").why.expect("a hint").contains("UTF-16"));
        let bare: Vec<u8> = "näme".encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert!(decode(&bare, None).expect_err("bytes").why.expect("a hint").contains("UTF-16"));
        assert!(decode(b"a\x81b", Some("windows-1252")).is_err(), "no letter in that set");
        assert!(decode(b"\xff\xfea", None).is_err(), "half a letter");
        assert!(decode(b"a", Some("klingon")).is_err());
        assert!(decode(b"a", Some("iso-2022-kr")).is_err(), "a set that only replaces");
        assert_eq!(text(b"", None), (String::new(), "UTF-8"));
    }
}
