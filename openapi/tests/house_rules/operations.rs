//! What every operation has.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::{document, none, operations, text};

/// Operations that need no caller. This list may only shrink.
const PUBLIC: &[&str] = &[
    "create_session",
    "refresh_session",
    "get_liveness",
    "get_readiness",
    "get_problem_type",
    "get_json_web_keys",
    "get_authorization_server",
    "issue_token",
    "redeem_access_link",
    "redeem_password_link",
];

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
        if operation["security"] == serde_json::json!([]) {
            public.insert(id);
        } else if permission.and_then(api::auth::permission::named).is_none() {
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
            // The errors of a token request have the form of RFC 6749.
            let own = &response["content"]["application/json"]["schema"]["$ref"];
            let is_token = operation["operationId"] == "issue_token"
                && own == "#/components/schemas/OauthError";
            if status.as_str() >= "400" && schema != "#/components/schemas/Problem" && !is_token {
                wrong.push(format!("{at} {status}: not a Problem"));
            }
        }
        // What is made, or is there already, has one body.
        let successes = responses.iter().filter(|(status, _)| status.starts_with('2'));
        let bodies: BTreeSet<String> =
            successes.map(|(_, response)| response["content"].to_string()).collect();
        if bodies.len() != 1 {
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
