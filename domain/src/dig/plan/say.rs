//! The plan in words that somebody reads in the field.

use super::rows::{Chosen, RowWhy};
use crate::quantity::{Length, Measured};

pub(super) use super::super::say::rows as list;

const WORDS: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// `five`, and digits beyond twelve.
pub(super) fn number(count: u16) -> String {
    WORDS.get(usize::from(count)).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

/// `five seeds`, `one seed`.
pub(super) fn seeds(count: u16) -> String {
    if count == 1 { "one seed".to_owned() } else { format!("{} seeds", number(count)) }
}

/// `two more rows`, `one more row`.
pub(super) fn more_rows(count: u16) -> String {
    let rows = if count == 1 { "row" } else { "rows" };
    format!("{} more {rows}", number(count))
}

/// `100 ft (30 m)`.
pub(super) fn feet(length: Length) -> String {
    format!("{:.0} ft ({:.0} m)", length.si() / 0.3048, length.si())
}

/// `an outer row on the left, behind a tyre`.
pub(super) fn reason(chosen: &Chosen, seen_before: bool) -> String {
    let mut parts: Vec<String> = chosen
        .why
        .iter()
        .map(|why| match why {
            RowWhy::LeftEnd => "an outer row at the left end".to_owned(),
            RowWhy::RightEnd => "an outer row at the right end".to_owned(),
            RowWhy::BehindTyre => "behind a tyre".to_owned(),
            RowWhy::Inner => format!("an inner row, {}", chosen.part),
            RowWhy::OddLastTime => "it differed from the others last time".to_owned(),
        })
        .collect();
    if seen_before && !chosen.why.contains(&RowWhy::OddLastTime) {
        parts.push("dug before: no other row stands for its place".to_owned());
    }
    parts.join("; ")
}

pub(super) fn upper(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
