//! Tests that walk the API document, so that no operation can be forgotten.

use serde_json::{Value, json};
use tests::{CATALOGUE, Farmstead, TestApp, User};

/// Operations that need no caller. This list may only shrink.
const PUBLIC: &[&str] = &["create_session", "get_liveness", "get_readiness", "get_problem_type"];

struct Operation {
    id: String,
    method: String,
    path: String,
    body: Option<Value>,
    permission: Option<String>,
}

fn operations(document: &Value) -> Vec<Operation> {
    let mut found = Vec::new();
    for (path, item) in document["paths"].as_object().expect("paths") {
        for (method, operation) in item.as_object().expect("operations") {
            found.push(Operation {
                id: operation["operationId"].as_str().expect("id").to_owned(),
                method: method.to_uppercase(),
                path: path.clone(),
                body: example_of_body(document, operation),
                permission: operation["security"][0]["bearer"][0].as_str().map(str::to_owned),
            });
        }
    }
    assert!(found.len() > 25, "only {} operations found", found.len());
    found
}

/// The example of the schema of the body: so that the walk sends something valid.
fn example_of_body(document: &Value, operation: &Value) -> Option<Value> {
    let content = &operation["requestBody"]["content"]["application/json"];
    let reference = content["schema"]["$ref"].as_str()?;
    let schema = document.pointer(reference.trim_start_matches('#')).expect("schema");
    Some(schema["examples"][0].clone())
}

async fn document(app: &TestApp) -> Value {
    app.nobody.get("/openapi.json").await.assert_status(200).json()
}

async fn call(user: &User, operation: &Operation, path: &str) -> tests::Answer {
    let headers: &[(&str, &str)] =
        if operation.method == "PATCH" { &[("if-match", "*")] } else { &[] };
    user.send(&operation.method, path, headers, operation.body.as_ref()).await
}

#[tokio::test]
async fn without_a_token_every_operation_but_the_public_ones_is_401() {
    let app = TestApp::start().await;
    let id = &app.own_grower_id;
    for operation in operations(&document(&app).await) {
        let path = operation.path.replace("{id}", id).replace("{code}", "stale");
        let path = path.replace("{name}", "opener_resistance");
        let answer = call(&app.nobody, &operation, &path).await;
        if PUBLIC.contains(&operation.id.as_str()) {
            assert!(operation.permission.is_none(), "{}", operation.id);
            assert_ne!(answer.json()["code"], "unauthenticated", "{}", operation.id);
        } else {
            assert!(operation.permission.is_some(), "{} names no permission", operation.id);
            answer.assert_problem(401, "unauthenticated");
        }
    }
}

#[tokio::test]
async fn an_object_of_another_practice_is_404_for_every_operation() {
    let app = TestApp::start().await;
    let theirs = Farmstead::make(&app.stranger, "Their grower").await;
    theirs.issue(&app.stranger).await;
    let theirs = theirs.with_dig(&app.stranger).await;
    let document = document(&app).await;
    let mut checked = 0;
    for operation in operations(&document) {
        let Some((before, _)) = operation.path.split_once("{id}") else { continue };
        let whole = format!("{before}{{id}}");
        let kind = CATALOGUE.iter().find(|(path, _)| *path == whole).map(|(_, kind)| *kind);
        let kind = kind.unwrap_or_else(|| panic!("{whole} is not in the catalogue of the tests"));
        let id = theirs.id_of(kind).unwrap_or_else(|| panic!("no {kind} in a farmstead"));
        let path = operation.path.replace("{id}", id);
        call(&app.lead, &operation, &path).await.assert_problem(404, "not_found");
        checked += 1;
    }
    assert!(checked >= 15, "only {checked} operations have an id");
    for kind in CATALOGUE.iter().filter(|(path, _)| path.matches('/').count() == 3) {
        let path = kind.0.replace("{id}", theirs.id_of(kind.1).expect("id"));
        app.stranger.get(&path).await.assert_status(200);
    }
}

#[tokio::test]
async fn a_role_without_the_permission_is_403() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    for operation in operations(&document(&app).await) {
        let Some(permission) = &operation.permission else { continue };
        let path = operation.path.replace("{id}", &stead.grower);
        let path = path.replace("{name}", "opener_resistance");
        let (reader, grower) = match permission.as_str() {
            "read" => (false, false),
            "advise" => (true, true),
            "dig" | "acknowledge" => (true, false),
            other => panic!("{}: {other} is no permission", operation.id),
        };
        for (user, refused) in [(&app.read_only, reader), (&app.grower, grower)] {
            if refused {
                call(user, &operation, &path).await.assert_problem(403, "forbidden");
            }
        }
    }
}

#[tokio::test]
async fn every_answer_has_a_status_that_the_document_names() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let document = document(&app).await;
    for operation in operations(&document) {
        let method = operation.method.to_lowercase();
        let named = &document["paths"][&operation.path][&method]["responses"];
        let path = operation.path.replace("{id}", &stead.farm).replace("{code}", "stale");
        let path = path.replace("{name}", "opener_resistance");
        let hostile = json!({"no such member": ["\u{0}", 1e300, null]});
        for (headers, body) in [
            (vec![], operation.body.clone()),
            (vec![("if-match", "\"99\"")], operation.body.clone()),
            (vec![], Some(hostile.clone())),
            (vec![("content-type", "text/plain")], Some(json!("x"))),
        ] {
            if operation.body.is_none() && body.is_some() {
                continue;
            }
            let answer = app.lead.send(&operation.method, &path, &headers, body.as_ref()).await;
            let status = answer.status.to_string();
            assert!(named.get(&status).is_some(), "{} answers {status}", operation.id);
            assert!(answer.status < 500, "{}: {}", operation.id, answer.text);
        }
    }
}
