//! Rules of the house for the API document, so that people and every client generator can read it.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test that meets the unexpected must fail loudly"
)]

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

/// Operations that need no caller. This list may only shrink.
const PUBLIC: &[&str] = &["create_session", "get_liveness", "get_readiness", "get_problem_type"];

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

#[test]
fn the_head_is_complete() {
    let document = document();
    assert_eq!(document["openapi"], "3.1.0");
    assert_eq!(document["info"]["title"], "Dibble");
    assert_eq!(document["info"]["license"]["name"], "Apache-2.0");
    assert!(text(&document["info"], "description").len() > 100);
    assert_eq!(document["servers"][0]["url"], "/");
}

#[test]
fn every_operation_says_what_it_is() {
    let document = document();
    let tags: BTreeSet<&str> =
        document["tags"].as_array().expect("tags").iter().map(|tag| text(tag, "name")).collect();
    let mut wrong = Vec::new();
    let mut used_tags = BTreeSet::new();
    let operations = operations(&document);
    for (at, operation) in &operations {
        for member in ["operationId", "summary", "description"] {
            if text(operation, member).is_empty() {
                wrong.push(format!("{at}: no {member}"));
            }
        }
        if !text(operation, "summary").ends_with('.') {
            wrong.push(format!("{at}: the summary is no sentence"));
        }
        let own: Vec<&str> =
            operation["tags"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        if own.len() != 1 || !tags.contains(own[0]) {
            wrong.push(format!("{at}: tags {own:?}, one of {tags:?} is wanted"));
        }
        used_tags.extend(own.into_iter().map(str::to_owned));
    }
    for tag in tags.iter().filter(|tag| !used_tags.contains(**tag)) {
        wrong.push(format!("the tag {tag} is not used"));
    }
    none(&wrong);
}

#[test]
fn operation_ids_are_unique_snake_case() {
    let document = document();
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    let mut wrong = Vec::new();
    for (at, operation) in operations(&document) {
        let id = text(&operation, "operationId").to_owned();
        if !id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
            || !id.contains('_')
        {
            wrong.push(format!("{at}: {id} is not verb_object"));
        }
        if let Some(before) = seen.insert(id.clone(), at.clone()) {
            wrong.push(format!("{at}: {id} is taken by {before}"));
        }
    }
    none(&wrong);
}

#[test]
fn every_operation_but_the_public_ones_names_its_permission() {
    let document = document();
    let mut public = BTreeSet::new();
    let mut wrong = Vec::new();
    for (at, operation) in operations(&document) {
        let id = text(&operation, "operationId").to_owned();
        let permission = operation["security"][0]["bearer"][0].as_str();
        if operation["security"] == serde_json::json!([{}]) {
            public.insert(id);
        } else if !matches!(permission, Some("read" | "advise" | "dig" | "acknowledge")) {
            wrong.push(format!("{at}: {}", operation["security"]));
        }
    }
    none(&wrong);
    assert_eq!(public, PUBLIC.iter().map(ToString::to_string).collect());
}

#[test]
fn every_response_is_described_and_every_error_is_a_problem() {
    let document = document();
    let mut wrong = Vec::new();
    for (at, operation) in operations(&document) {
        let responses = operation["responses"].as_object().expect("responses");
        for (status, response) in responses {
            if text(response, "description").is_empty() {
                wrong.push(format!("{at} {status}: no description"));
            }
            let schema = &response["content"]["application/problem+json"]["schema"]["$ref"];
            if status.as_str() >= "400" && schema != "#/components/schemas/Problem" {
                wrong.push(format!("{at} {status}: not a Problem"));
            }
        }
        if responses.keys().filter(|status| status.starts_with('2')).count() != 1 {
            wrong.push(format!("{at}: not one kind of success"));
        }
        if !responses.contains_key("500") {
            wrong.push(format!("{at}: no 500"));
        }
    }
    none(&wrong);
}

#[test]
fn every_json_body_has_a_schema_of_its_own_with_an_example() {
    let document = document();
    let mut wrong = Vec::new();
    for (at, operation) in operations(&document) {
        let mut bodies = vec![("request", &operation["requestBody"])];
        bodies.extend(
            operation["responses"]
                .as_object()
                .expect("responses")
                .iter()
                .filter(|(status, _)| status.starts_with('2'))
                .map(|(status, response)| (status.as_str(), response)),
        );
        for (what, body) in bodies {
            let Some(content) = body["content"].get("application/json") else { continue };
            let Some(reference) = content["schema"]["$ref"].as_str() else {
                wrong.push(format!("{at} {what}: the schema has no name"));
                continue;
            };
            let schema = document.pointer(reference.trim_start_matches('#')).expect("a schema");
            if !schema["examples"][0].is_object() {
                wrong.push(format!("{at} {what}: {reference} has no example"));
            }
        }
    }
    none(&wrong);
}

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
fn every_parameter_is_described_and_every_variable_of_a_path_is_one() {
    let document = document();
    let mut wrong = Vec::new();
    for (at, operation) in operations(&document) {
        let parameters: Vec<&Value> =
            operation["parameters"].as_array().into_iter().flatten().collect();
        for parameter in &parameters {
            if text(parameter, "description").is_empty() {
                wrong.push(format!("{at}: {} is not described", parameter["name"]));
            }
        }
        for variable in at.split('/').filter(|part| part.starts_with('{')) {
            let name = variable.trim_matches(['{', '}']);
            let known = parameters.iter().any(|parameter| {
                parameter["name"] == name
                    && parameter["in"] == "path"
                    && parameter["required"] == true
            });
            if !known {
                wrong.push(format!("{at}: {variable} is no parameter"));
            }
        }
    }
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
    assert!(!document.to_string().contains("\"webhooks\""));
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
