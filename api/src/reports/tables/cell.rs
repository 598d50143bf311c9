//! What stands in a cell of a table.

use chrono::{DateTime, NaiveDate, SecondsFormat, Utc};
use uuid::Uuid;

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Nothing known.
    Empty,
    /// An id.
    Id(Uuid),
    /// A code made for one export.
    Made(String),
    /// What somebody wrote.
    Text(String),
    /// A word of a closed list.
    Word(String),
    /// A whole number.
    Whole(i64),
    /// A number, to so many digits after the point.
    Number(f64, usize),
    /// Yes or no.
    Flag(bool),
    /// A day.
    Day(NaiveDate),
    /// A moment.
    Time(DateTime<Utc>),
}

impl Cell {
    /// Of what may not be known.
    pub fn maybe<T>(value: Option<T>, cell: impl Fn(T) -> Self) -> Self {
        value.map_or(Self::Empty, cell)
    }

    /// A number, to so many digits.
    pub fn number(value: Option<f64>, digits: usize) -> Self {
        Self::maybe(value, |value| Self::Number(value, digits))
    }

    /// As it stands in a CSV file: dot decimals, RFC 3339 times, empty where nothing is known.
    pub fn csv(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Id(id) => id.to_string(),
            Self::Text(text) => plain(text),
            Self::Made(text) | Self::Word(text) => text.clone(),
            Self::Whole(number) => number.to_string(),
            Self::Number(number, digits) => format!("{number:.digits$}"),
            Self::Flag(flag) => flag.to_string(),
            Self::Day(day) => day.to_string(),
            Self::Time(at) => at.to_rfc3339_opts(SecondsFormat::Millis, true),
        }
    }
}

/// Text that no spreadsheet takes for a formula: where it begins like one, an apostrophe comes
/// first. Line breaks and other control characters become spaces.
pub fn plain(text: &str) -> String {
    let text: String = text.chars().map(|it| if it.is_control() { ' ' } else { it }).collect();
    let formula = text.trim_start().starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']);
    if formula { format!("'{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::{Cell, plain};

    #[test]
    fn text_is_never_a_formula() {
        for text in ["=1+1", "+1", "-1", "@x", " =1", "\t=1", "＝1"] {
            assert!(plain(text).starts_with('\''), "{text}");
        }
        assert_eq!(plain("two\r\nlines"), "two  lines");
        assert_eq!(plain("North 40"), "North 40");
    }

    #[test]
    fn cells_are_written_the_same_everywhere() {
        assert_eq!(Cell::Number(-0.5, 2).csv(), "-0.50");
        assert_eq!(Cell::Flag(true).csv(), "true");
        let at =
            "2026-05-01T12:00:00+02:00".parse::<chrono::DateTime<chrono::Utc>>().expect("a time");
        assert_eq!(Cell::Time(at).csv(), "2026-05-01T10:00:00.000Z");
    }
}
