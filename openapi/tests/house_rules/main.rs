//! Rules of the house for the API document, so that people and every client generator can read it.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test that meets the unexpected must fail loudly"
)]

mod operations;
mod schemas;

use serde_json::Value;

fn document() -> Value {
    openapi::document().expect("JSON")
}

/// Method, path and operation of every operation.
fn operations(document: &Value) -> Vec<(String, Value)> {
    let mut found = Vec::new();
    for (path, item) in document["paths"].as_object().expect("paths") {
        for (method, operation) in item.as_object().expect("operations") {
            found.push((format!("{method} {path}"), operation.clone()));
        }
    }
    assert!(found.len() > 25, "only {} operations", found.len());
    found
}

fn text<'a>(value: &'a Value, member: &str) -> &'a str {
    value[member].as_str().unwrap_or_default()
}

/// Fails with all that is wrong, not only the first.
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{} broken:\n{}", wrong.len(), wrong.join("\n"));
}

/// Visits every schema of the document, with the way to it.
fn visit_schemas(document: &Value, visit: &mut impl FnMut(&str, &Value)) {
    for (name, schema) in document["components"]["schemas"].as_object().expect("schemas") {
        visit_schema(name, schema, visit);
    }
}

fn visit_schema(at: &str, schema: &Value, visit: &mut impl FnMut(&str, &Value)) {
    visit(at, schema);
    for (name, member) in schema["properties"].as_object().into_iter().flatten() {
        visit_schema(&format!("{at}.{name}"), member, visit);
    }
    for list in ["oneOf", "anyOf", "allOf"] {
        for (index, form) in schema[list].as_array().into_iter().flatten().enumerate() {
            visit_schema(&format!("{at}/{index}"), form, visit);
        }
    }
    if schema["items"].is_object() {
        visit_schema(&format!("{at}[]"), &schema["items"], visit);
    }
}
