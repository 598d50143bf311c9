//! The data files beside `oracles.csv`.

use std::path::PathBuf;

/// A file as header and cells.
pub(crate) struct Table {
    header: Vec<String>,
    pub(crate) lines: Vec<csv::StringRecord>,
}

pub(crate) fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name)
}

impl Table {
    pub(crate) fn read(name: &str) -> Self {
        let mut reader =
            csv::Reader::from_path(path(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
        let header = reader.headers().unwrap().iter().map(str::to_owned).collect();
        let lines = reader.records().map(Result::unwrap).collect();
        Self { header, lines }
    }

    /// The text of a column in a line.
    pub(crate) fn text<'a>(&self, line: &'a csv::StringRecord, column: &str) -> &'a str {
        let at = self.header.iter().position(|h| h == column);
        &line[at.unwrap_or_else(|| panic!("no column {column}"))]
    }

    /// The number of a column in a line.
    pub(crate) fn num(&self, line: &csv::StringRecord, column: &str) -> f64 {
        let text = self.text(line, column);
        text.parse().unwrap_or_else(|_| panic!("{column}: {text} is not a number"))
    }

    /// The numbers of one column, grouped by another in order of first sight; blanks left out.
    pub(crate) fn groups(&self, by: &str, of: &str) -> Vec<(String, Vec<f64>)> {
        let mut groups: Vec<(String, Vec<f64>)> = Vec::new();
        for line in &self.lines {
            let text = self.text(line, of);
            if text.is_empty() || text == "NA" {
                continue;
            }
            let value = text.parse().unwrap_or_else(|_| panic!("{of}: {text} is not a number"));
            let name = self.text(line, by);
            match groups.iter_mut().find(|(n, _)| n == name) {
                Some((_, values)) => values.push(value),
                None => groups.push((name.to_owned(), vec![value])),
            }
        }
        groups
    }
}
