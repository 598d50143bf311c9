//! The list of checks in tests/CHECKS.md is that of the data files.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::allow_attributes,
    reason = "a test that meets the unexpected must fail loudly"
)]

use std::fmt::Write;
use std::path::{Path, PathBuf};

const BEGIN: &str = "<!-- from the data files -->\n";
const END: &str = "<!-- to here -->\n";

/// A line of a data file: what it checks, and where the check stands.
struct Check {
    id: String,
    topic: String,
    source: String,
    publisher: String,
    year: String,
    mark: String,
}

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn checks() -> Vec<Check> {
    let files = ["tests/data/oracles.csv", "tests/data/statistics.csv"];
    files.iter().flat_map(|file| read(file)).collect()
}

fn read(file: &str) -> Vec<Check> {
    let mut lines = csv::Reader::from_path(path(file)).unwrap_or_else(|e| panic!("{file}: {e}"));
    let header = lines.headers().unwrap().clone();
    let at = |name: &str| header.iter().position(|column| column == name).expect("the column");
    let of = |line: &csv::StringRecord, name: &str| line[at(name)].replace('|', "/");
    lines
        .records()
        .map(|line| {
            let line = line.unwrap();
            Check {
                id: of(&line, "id"),
                topic: of(&line, "topic").replace('_', " "),
                source: of(&line, "source"),
                publisher: of(&line, "publisher"),
                year: of(&line, "year"),
                mark: of(&line, "mark"),
            }
        })
        .collect()
}

fn table() -> String {
    let mut text = String::from("\n| check | of what | source | mark |\n|---|---|---|---|\n");
    for Check { id, topic, source, publisher, year, mark } in checks() {
        let from = [source, publisher, year];
        let from: Vec<String> = from.into_iter().filter(|part| !part.is_empty()).collect();
        writeln!(text, "| {id} | {topic} | {} | {mark} |", from.join(", ")).unwrap();
    }
    text.push('\n');
    text
}

/// What stands before the list, the list, and what stands after it.
fn parts(document: &str) -> (&str, &str, &str) {
    let (before, rest) = document.split_once(BEGIN).expect("the first marker");
    let (list, after) = rest.split_once(END).expect("the last marker");
    (before, list, after)
}

#[test]
fn every_check_value_is_listed_with_its_source() {
    let document = std::fs::read_to_string(path("../tests/CHECKS.md")).expect("tests/CHECKS.md");
    let (_, list, _) = parts(&document);
    assert!(
        list == table(),
        "tests/CHECKS.md is stale: cargo test -p domain --test outside_checks -- --ignored"
    );
}

#[test]
fn no_check_value_is_without_a_source_or_from_memory() {
    for check in checks() {
        assert!(!check.source.is_empty(), "{} has no source", check.id);
        assert!(["read", "derived"].contains(&check.mark.as_str()), "{}: {}", check.id, check.mark);
    }
}

#[test]
#[ignore = "writes the list into tests/CHECKS.md"]
fn write_the_list() {
    let file = path("../tests/CHECKS.md");
    let document = std::fs::read_to_string(&file).expect("tests/CHECKS.md");
    let (before, _, after) = parts(&document);
    std::fs::write(&file, format!("{before}{BEGIN}{}{END}{after}", table())).expect("written");
}
