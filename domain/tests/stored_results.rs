//! What an older engine stored stays readable, and nothing of it is lost.
//!
//! `data/engine_*.json` holds rows that engines of the past stored. A new member of what is stored
//! needs a default; a member that is renamed or dropped fails here.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::allow_attributes,
    reason = "a test that meets the unexpected must fail loudly"
)]

mod cases;

use std::path::{Path, PathBuf};

use domain::provenance::Coefficients;
use domain::settings::{ENGINE, Inputs, Recommendation, recommend};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A row as it lies in storage.
#[derive(Serialize, Deserialize)]
struct Row {
    engine_version: String,
    inputs: Value,
    result: Value,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data")
}

fn fixtures() -> Vec<(String, Vec<Row>)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder()).expect("the folder of data") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if name.starts_with("engine_") {
            let text = std::fs::read_to_string(&path).expect("readable");
            found.push((name, serde_json::from_str(&text).expect("rows")));
        }
    }
    found
}

/// The pointers under which `stored` has something that `now` lacks or has otherwise.
fn lost(stored: &Value, now: &Value, at: &str, found: &mut Vec<String>) {
    match (stored, now) {
        (Value::Object(stored), Value::Object(now)) => lost_members(stored, now, at, found),
        (Value::Array(stored), Value::Array(now)) if stored.len() == now.len() => {
            for (i, (stored, now)) in stored.iter().zip(now).enumerate() {
                lost(stored, now, &format!("{at}/{i}"), found);
            }
        }
        _ if stored == now => {}
        _ => found.push(format!("{at}: stored {stored}, now {now}")),
    }
}

fn lost_members(
    stored: &Map<String, Value>,
    now: &Map<String, Value>,
    at: &str,
    found: &mut Vec<String>,
) {
    for (name, value) in stored {
        match now.get(name) {
            Some(now) => lost(value, now, &format!("{at}/{name}"), found),
            // A member that says "nothing" may go.
            None if value.is_null() => {}
            None => found.push(format!("{at}/{name}: stored {value}, now absent")),
        }
    }
}

fn check(part: &str, stored: &Value, now: &Value) {
    let mut found = Vec::new();
    lost(stored, now, "", &mut found);
    assert!(found.is_empty(), "{part}: {found:#?}");
}

#[test]
fn what_older_engines_stored_is_read_and_nothing_is_lost() {
    let fixtures = fixtures();
    assert!(fixtures.iter().any(|(name, _)| name == "engine_2026_1.json"), "the first fixture");
    for (name, rows) in fixtures {
        assert!(rows.len() >= 6, "{name} has {} rows", rows.len());
        for (i, row) in rows.iter().enumerate() {
            let place = format!("{name}, row {i}");
            let inputs: Inputs = serde_json::from_value(row.inputs.clone())
                .unwrap_or_else(|error| panic!("{place}, inputs: {error}"));
            let result: Recommendation = serde_json::from_value(row.result.clone())
                .unwrap_or_else(|error| panic!("{place}, result: {error}"));
            assert_eq!(result.engine, row.engine_version, "{place}");
            check(&place, &row.inputs, &serde_json::to_value(&inputs).unwrap());
            check(&place, &row.result, &serde_json::to_value(&result).unwrap());
            // What was read is fit for today's engine.
            let today = recommend(&inputs, &Coefficients::STANDARD);
            assert_eq!(today.engine, ENGINE, "{place}");
        }
    }
}

#[test]
fn a_member_that_is_lost_or_changed_is_seen() {
    let stored = serde_json::json!({"a": {"b": [1.5, null]}, "c": null});
    let seen = |now: Value| {
        let mut found = Vec::new();
        lost(&stored, &now, "", &mut found);
        found.len()
    };
    assert_eq!(seen(serde_json::json!({"a": {"b": [1.5, null]}, "d": 1})), 0);
    assert_eq!(seen(serde_json::json!({"a": {"b": [1.5, 2]}, "c": null})), 1);
    assert_eq!(seen(serde_json::json!({"a": {"b": [1.5]}})), 1);
    assert_eq!(seen(serde_json::json!({"a": {}})), 1);
}

/// Writes what today's engine stores, to be committed before `ENGINE` is raised:
/// `cargo test -p domain --test stored_results -- --ignored`.
#[test]
#[ignore = "writes a file; see \"When the engine changes its answers\" in DEVELOPERS.md"]
fn write_the_rows_of_this_engine() {
    let mut runner = TestRunner::deterministic();
    let mut inputs = vec![cases::worked_case()];
    inputs.extend((0..7).map(|_| cases::inputs().new_tree(&mut runner).unwrap().current()));
    let rows: Vec<String> = inputs.iter().map(|inputs| text_of(&row_of(inputs))).collect();
    let path = folder().join(format!("engine_{}.json", ENGINE.replace('.', "_")));
    std::fs::write(path, format!("[\n{}\n]\n", rows.join(",\n"))).expect("written");
}

fn row_of(inputs: &Inputs) -> Row {
    Row {
        engine_version: ENGINE.to_owned(),
        inputs: serde_json::to_value(inputs).unwrap(),
        result: serde_json::to_value(recommend(inputs, &Coefficients::STANDARD)).unwrap(),
    }
}

fn text_of(row: &Row) -> String {
    serde_json::to_string(row).unwrap()
}
