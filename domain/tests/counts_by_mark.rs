//! The table of counts in README.md is that of the code.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::allow_attributes,
    reason = "a test that meets the unexpected must fail loudly"
)]

use std::fmt::Write;
use std::path::{Path, PathBuf};

use domain::provenance::{Coefficients, Mark};

const MARKER: &str = "<!-- counts-by-mark -->\n";

/// What a mark says about the figures that ship.
const fn meaning(mark: Mark) -> &'static str {
    match mark {
        Mark::Measured => "measured on the planter or in the field",
        Mark::Learned => "corrected by digs",
        Mark::Read => "stands in the named source",
        Mark::Derived => "calculated from read figures, definitions or statics",
        Mark::Own => "the practice's own, with its source",
        Mark::CommonPractice => "general trade knowledge without a citable source",
        Mark::FromMemory => "recalled from the named source, to be confirmed; never a check value",
        Mark::Proposal => "this project's own choice",
        Mark::Assumption => "a default without independent source; never a check value",
    }
}

fn table() -> String {
    let set = Coefficients::STANDARD;
    let mut text = String::from("| mark | coefficients | what it means |\n|---|---:|---|\n");
    for (mark, count) in set.counts_by_mark() {
        writeln!(text, "| {} | {count} | {} |", mark.words(), meaning(mark)).unwrap();
    }
    writeln!(text, "| all | {} | |", set.all().len()).unwrap();
    text
}

fn readme() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../README.md")
}

/// What stands before the table, the table, and what stands after it.
fn parts(readme: &str) -> (&str, &str, &str) {
    let (before, rest) = readme.split_once(MARKER).expect("the marker is in README.md");
    let end = rest
        .split_inclusive('\n')
        .take_while(|line| line.starts_with('|'))
        .map(str::len)
        .sum::<usize>();
    let (table, after) = rest.split_at(end);
    (before, table, after)
}

#[test]
fn the_readme_counts_the_coefficients_as_they_are() {
    let text = std::fs::read_to_string(readme()).expect("README.md");
    let (_, committed, _) = parts(&text);
    assert!(
        committed == table(),
        "README.md is out of date: cargo test -p domain --test counts_by_mark -- --ignored\n{}",
        table()
    );
}

#[test]
#[ignore = "writes the table into README.md"]
fn write_the_counts_into_the_readme() {
    let text = std::fs::read_to_string(readme()).expect("README.md");
    let (before, _, after) = parts(&text);
    std::fs::write(readme(), format!("{before}{MARKER}{}{after}", table())).expect("written");
}
