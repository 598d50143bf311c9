//! One line of `oracles.csv`.

use serde::Deserialize;

/// A published or derived check value.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Row {
    pub(crate) id: String,
    pub(crate) topic: String,
    inputs: String,
    expected: String,
    pub(crate) tolerance: String,
    pub(crate) source: String,
    pub(crate) publisher: String,
    pub(crate) year: String,
    pub(crate) mark: String,
}

impl Row {
    /// The text of an input.
    pub(crate) fn text(&self, key: &str) -> Option<&str> {
        find(&self.inputs, key)
    }

    /// An input that must be there.
    pub(crate) fn num(&self, key: &str) -> f64 {
        match self.nums(key).as_slice() {
            [one] => *one,
            other => panic!("{}: {key} is {other:?}, not one number", self.id),
        }
    }

    /// A list of inputs, separated by `|`; empty where the key is missing.
    pub(crate) fn nums(&self, key: &str) -> Vec<f64> {
        self.text(key).map(numbers).unwrap_or_default()
    }

    /// The data file of the inputs.
    pub(crate) fn file(&self) -> Option<&str> {
        file_of(&self.inputs)
    }

    /// The expected values as key and list of cells; the data file of the expected side apart.
    pub(crate) fn expected(&self) -> Vec<(&str, Vec<&str>)> {
        pairs(&self.expected).map(|(key, value)| (key, value.split('|').collect())).collect()
    }

    /// The data file whose cells are expected.
    pub(crate) fn expected_file(&self) -> Option<&str> {
        file_of(&self.expected)
    }
}

fn pairs(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.split(';').filter_map(|p| p.split_once('=')).map(|(k, v)| (k.trim(), v.trim()))
}

fn find<'a>(text: &'a str, key: &str) -> Option<&'a str> {
    pairs(text).find(|(k, _)| *k == key).map(|(_, v)| v)
}

fn file_of(text: &str) -> Option<&str> {
    text.split(';').find_map(|p| p.trim().strip_prefix("file:"))
}

fn numbers(text: &str) -> Vec<f64> {
    text.split('|')
        .map(|n| n.trim().parse().unwrap_or_else(|_| panic!("{n} is not a number")))
        .collect()
}
