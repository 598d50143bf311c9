//! A choice with its reasons, in words that a grower uses.

use serde::{Deserialize, Serialize};

use super::mark::Mark;
use super::trace::{Assumed, Text};

/// One sentence that speaks for a choice, or warns, with its source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reason {
    /// The sentence: short, plain, with units.
    pub text: Text,
    /// How it is known.
    pub mark: Mark,
    /// The source, or "common practice, no source".
    pub source: Text,
}

impl Reason {
    /// A sentence that stands in the program.
    pub const fn fixed(text: &'static str, mark: Mark, source: &'static str) -> Self {
        Self { text: Text::Borrowed(text), mark, source: Text::Borrowed(source) }
    }

    /// A sentence with numbers of the case in it.
    pub fn made(text: String, mark: Mark, source: impl Into<Text>) -> Self {
        Self { text: Text::Owned(text), mark, source: source.into() }
    }
}

/// A choice with what speaks for it, what to watch, and what was assumed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Advice<T> {
    /// What to do.
    pub choice: T,
    /// Why.
    pub because: Vec<Reason>,
    /// What to watch, and what to try on two rows first.
    pub watch: Vec<Reason>,
    /// Defaults that stood in for observations.
    pub assumed: Vec<Assumed>,
}
