//! Why a value was refused, and where.

use std::fmt;

use serde::de::{Error, Expected, Unexpected};

use super::node::{Path, escaped};
use crate::http::member::BadMember;

/// Why a value was refused. Where is filled in on the way out.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// The whole way from the root, once it is known.
    pointer: Option<String>,
    /// The way from the place where the refusal arose: to a member that is missing or unknown.
    below: String,
    detail: String,
    given: Option<String>,
    allowed: Option<String>,
}

/// Between the parts of a refusal that travels as text through another error type.
const SEPARATOR: char = '\u{1}';

impl Refusal {
    fn new(detail: impl Into<String>) -> Self {
        Self {
            pointer: None,
            below: String::new(),
            detail: detail.into(),
            given: None,
            allowed: None,
        }
    }

    fn member(name: &str, detail: &str) -> Self {
        Self { below: format!("/{}", escaped(name)), ..Self::new(detail) }
    }

    /// A member that is needed is not there.
    pub fn missing(name: &str) -> Self {
        Self::member(name, "This member is needed.")
    }

    /// A member holds a word that is not known.
    pub fn unknown_word(name: &str, given: &str, known: &[&str]) -> Self {
        Self {
            given: Some(given.to_owned()),
            allowed: Some(known.join(", ")),
            ..Self::member(name, "This word is not known here.")
        }
    }

    /// Fills in the place, unless a place further in is known.
    pub(super) fn at(mut self, path: &Path<'_>) -> Self {
        if self.pointer.is_none() {
            self.pointer = Some(path.pointer() + &self.below);
        }
        self
    }

    /// Fills in what was given, unless it is known.
    pub(super) fn given(mut self, text: &str) -> Self {
        self.given.get_or_insert_with(|| text.to_owned());
        self
    }

    /// As a member of a problem.
    pub fn into_member(self) -> BadMember {
        let mut member = BadMember::new(self.pointer.unwrap_or(self.below), self.detail);
        if let Some(given) = self.given {
            member = member.given(given);
        }
        if let Some(allowed) = self.allowed {
            member = member.allowed(allowed);
        }
        member
    }

    /// As text that [`Error::custom`] turns back into the same refusal, with its place taken from
    /// where it is then. For a type that reads a part of its own with another reader.
    pub fn into_text(self) -> String {
        let place = self.pointer.unwrap_or(self.below);
        let parts = [
            String::new(),
            place,
            self.detail,
            self.given.unwrap_or_default(),
            self.allowed.unwrap_or_default(),
        ];
        parts.join(&SEPARATOR.to_string())
    }

    fn from_text(text: &str) -> Option<Self> {
        let mut parts = text.strip_prefix(SEPARATOR)?.split(SEPARATOR).map(str::to_owned);
        let (below, detail) = (parts.next()?, parts.next()?);
        let mut some = || parts.next().filter(|text| !text.is_empty());
        let given = some();
        Some(Self { pointer: None, below, detail, given, allowed: some() })
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.detail)
    }
}

impl std::error::Error for Refusal {}

impl Error for Refusal {
    fn custom<T: fmt::Display>(message: T) -> Self {
        let text = message.to_string();
        Self::from_text(&text).unwrap_or_else(|| Self::new(text))
    }

    fn invalid_type(given: Unexpected<'_>, wanted: &dyn Expected) -> Self {
        Self {
            given: Some(plain(given)),
            allowed: Some(in_words(&wanted.to_string())),
            ..Self::new(format!("This is not {}.", in_words(&wanted.to_string())))
        }
    }

    fn invalid_value(given: Unexpected<'_>, wanted: &dyn Expected) -> Self {
        Self::invalid_type(given, wanted)
    }

    fn invalid_length(length: usize, wanted: &dyn Expected) -> Self {
        Self {
            given: Some(format!("{length} entries")),
            allowed: Some(in_words(&wanted.to_string())),
            ..Self::new("There are too few or too many entries.")
        }
    }

    fn unknown_variant(given: &str, known: &'static [&'static str]) -> Self {
        Self {
            given: Some(given.to_owned()),
            allowed: Some(known.join(", ")),
            ..Self::new("This word is not known here.")
        }
    }

    fn unknown_field(name: &str, known: &'static [&'static str]) -> Self {
        Self { allowed: Some(known.join(", ")), ..Self::member(name, "There is no such member.") }
    }

    fn missing_field(name: &'static str) -> Self {
        Self::missing(name)
    }

    fn duplicate_field(name: &'static str) -> Self {
        Self::member(name, "This member is given twice.")
    }
}

/// What was given, without serde's words around it.
fn plain(given: Unexpected<'_>) -> String {
    match given {
        Unexpected::Str(text) => format!("{text:?}"),
        Unexpected::Bool(value) => value.to_string(),
        Unexpected::Unsigned(value) => value.to_string(),
        Unexpected::Signed(value) => value.to_string(),
        Unexpected::Float(value) => value.to_string(),
        Unexpected::Other(word) => word.to_owned(),
        other => other.to_string(),
    }
}

/// serde's name of a type in the words of people.
fn in_words(wanted: &str) -> String {
    match wanted {
        "f32" | "f64" => "a number",
        "i8" | "i16" | "i32" | "i64" => "a whole number of this size",
        "u8" | "u16" | "u32" | "u64" => "a whole number from 0 of this size",
        "a boolean" => "true or false",
        "a string" => "a text",
        "a sequence" => "a list",
        "an RFC 3339 formatted date and time string" => "a time such as 2027-04-20T12:00:00Z",
        "a formatted date string" => "a date such as 2027-04-20",
        "a formatted UUID string" => "a UUID",
        other if other.starts_with("struct ") || other == "a map" => "an object",
        other if other.starts_with("enum ") => "a word of the list",
        other => other,
    }
    .to_owned()
}
