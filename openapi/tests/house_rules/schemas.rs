//! What every schema has, and what none has.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::{document, none, operations, text, visit_schema, visit_schemas};

#[test]
fn every_schema_and_every_member_is_described() {
    let document = document();
    let mut wrong = Vec::new();
    visit_schemas(&document, &mut |at, schema| {
        if !at.contains(['.', '/', '[']) && text(schema, "description").is_empty() {
            wrong.push(format!("{at}: no description"));
        }
        for (name, member) in schema["properties"].as_object().into_iter().flatten() {
            // `null` or an object of its own: the words stand with the object.
            let forms = member["oneOf"].as_array().into_iter().flatten();
            let described = forms.chain([member]).any(|form| !text(form, "description").is_empty());
            if !described {
                wrong.push(format!("{at}.{name}: no description"));
            }
        }
    });
    none(&wrong);
}

#[test]
fn nothing_is_used_that_a_client_generator_can_not_read() {
    let document = document();
    let mut wrong = Vec::new();
    visit_schemas(&document, &mut |at, schema| {
        for member in ["prefixItems", "$defs", "discriminator", "not", "if"] {
            if schema.get(member).is_some() {
                wrong.push(format!("{at}: {member}"));
            }
        }
        if schema.is_boolean() || schema["items"].is_boolean() {
            wrong.push(format!("{at}: a schema that is true or false"));
        }
        for (list, what) in [("enum", "words"), ("required", "members")] {
            let mut seen = BTreeSet::new();
            for word in schema[list].as_array().into_iter().flatten().filter_map(Value::as_str) {
                let plain: String =
                    word.to_lowercase().chars().filter(char::is_ascii_alphanumeric).collect();
                if plain.is_empty() || !seen.insert(plain) {
                    wrong.push(format!("{at}: the {what} fall together at {word:?}"));
                }
            }
        }
        let scalars = schema["type"]
            .as_array()
            .map_or(0, |types| types.iter().filter(|name| *name != "null").count());
        if scalars > 1 {
            wrong.push(format!("{at}: a union of plain types"));
        }
    });
    assert!(document.get("webhooks").is_none());
    none(&wrong);
}

#[test]
fn every_reference_leads_somewhere_and_every_schema_is_used() {
    let document = document();
    let whole = document.to_string();
    let mut wrong = Vec::new();
    for part in whole.split("\"$ref\":\"").skip(1) {
        let reference = part.split('"').next().expect("a reference");
        if document.pointer(reference.trim_start_matches('#')).is_none() {
            wrong.push(format!("{reference} leads nowhere"));
        }
    }
    for name in document["components"]["schemas"].as_object().expect("schemas").keys() {
        if !whole.contains(&format!("\"#/components/schemas/{name}\"")) {
            wrong.push(format!("{name} is not used"));
        }
    }
    none(&wrong);
}

#[test]
fn lists_and_texts_that_come_in_have_an_end() {
    let document = document();
    let mut inputs = BTreeSet::new();
    for (_, operation) in operations(&document) {
        let content = &operation["requestBody"]["content"]["application/json"];
        if let Some(reference) = content["schema"]["$ref"].as_str() {
            gather(&document, reference, &mut inputs);
        }
    }
    let mut wrong = Vec::new();
    for name in inputs {
        let schema = &document["components"]["schemas"][&name];
        visit_schema(&name, schema, &mut |at, schema| {
            let is = |kind: &str| {
                schema["type"] == kind
                    || schema["type"].as_array().is_some_and(|all| all.iter().any(|t| t == kind))
            };
            let nested = at.ends_with("[]");
            if is("array") && schema.get("maxItems").is_none() && !nested {
                wrong.push(format!("{at}: a list without an end"));
            }
            let bounded = ["maxLength", "enum", "format"].iter().any(|m| schema.get(*m).is_some());
            if is("string") && !bounded {
                wrong.push(format!("{at}: a text without an end"));
            }
        });
    }
    none(&wrong);
}

/// The names of the schemas that a schema leads to.
fn gather(document: &Value, reference: &str, names: &mut BTreeSet<String>) {
    let name = reference.rsplit('/').next().expect("a name").to_owned();
    if !names.insert(name.clone()) {
        return;
    }
    let whole = document["components"]["schemas"][&name].to_string();
    for part in whole.split("\"$ref\":\"").skip(1) {
        gather(document, part.split('"').next().expect("a reference"), names);
    }
}
