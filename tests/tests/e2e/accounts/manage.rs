//! The lead manages the accounts of the practice.

use serde_json::{Value, json};
use tests::{NOON, TestApp};

use crate::sessions::{refresh, sign_in, user};

fn ben() -> Value {
    json!({"email": " Ben@Example.org ", "display_name": "Ben", "role": "advisor", "units": "si"})
}

fn path(id: &str) -> String {
    format!("/v1/accounts/{id}")
}

#[tokio::test]
async fn an_account_is_made_without_a_password_and_read_back() {
    let app = TestApp::start().await;
    let made = app.lead.post("/v1/accounts", &ben()).await.assert_status(201);
    assert_eq!(made.header("location"), path(&made.id()));
    assert_eq!(made.header("etag"), "\"1\"");
    let wanted = json!({
        "id": made.id(), "email": "ben@example.org", "display_name": "Ben", "role": "advisor",
        "practice": "Prairie Advisors", "units": "si", "has_password": false, "disabled": false,
        "version": 1, "created_at": NOON
    });
    assert_eq!(made.json(), wanted);
    let read = app.lead.get(&path(&made.id())).await.assert_status(200);
    assert_eq!((read.json(), read.header("etag")), (wanted.clone(), "\"1\""));
    let page = app.lead.get("/v1/accounts?role=advisor&disabled=false").await.json();
    let emails: Vec<&Value> =
        page["items"].as_array().expect("items").iter().map(|item| &item["email"]).collect();
    assert_eq!(emails, ["advisor@example.org", "ben@example.org"]);
    for password in ["", "!", "a long enough one"] {
        let body = json!({"email": "ben@example.org", "password": password});
        app.nobody.post("/v1/sessions", &body).await.assert_problem(401, "wrong_credentials");
    }
}

#[tokio::test]
async fn only_the_lead_manages_and_only_his_own_practice() {
    let app = TestApp::start().await;
    let own = path(&app.advisor.account_id);
    for user in [&app.advisor, &app.grower, &app.read_only] {
        user.get("/v1/accounts").await.assert_problem(403, "forbidden");
        user.get(&own).await.assert_problem(403, "forbidden");
        user.post("/v1/accounts", &ben()).await.assert_problem(403, "forbidden");
        let raise = json!({"role": "lead"});
        user.patch(&own, "*", &raise).await.assert_problem(403, "forbidden");
        let link = format!("{own}/password-links");
        user.send("POST", &link, &[], None).await.assert_problem(403, "forbidden");
    }
    app.stranger.get(&own).await.assert_problem(404, "not_found");
    let shut = json!({"disabled": true});
    app.stranger.patch(&own, "*", &shut).await.assert_problem(404, "not_found");
    let link = format!("{own}/password-links");
    app.stranger.send("POST", &link, &[], None).await.assert_problem(404, "not_found");
    let seen = app.stranger.get("/v1/accounts").await.json();
    assert_eq!(seen["items"].as_array().map(Vec::len), Some(1), "{seen}");
    app.advisor.get("/v1/growers").await.assert_status(200);
}

#[tokio::test]
async fn what_does_not_fit_is_refused_member_by_member() {
    let app = TestApp::start().await;
    let own = app.own_grower_id.as_str();
    let theirs = app.stranger.create("/v1/growers", &json!({"name": "Theirs"})).await;
    for (member, value, pointer) in [
        ("email", json!("nobody"), "/email"),
        ("email", json!("x@account.invalid"), "/email"),
        ("display_name", json!(""), "/display_name"),
        ("role", json!("owner"), "/role"),
        ("role", json!("grower"), "/grower_id"),
        ("grower_id", json!(own), "/grower_id"),
        ("password", json!("a long enough one"), "/password"),
        ("password_hash", json!("x"), "/password_hash"),
    ] {
        let mut body = ben();
        body[member] = value;
        let answer = app.lead.post("/v1/accounts", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let mut body = ben();
    (body["role"], body["grower_id"]) = (json!("grower"), json!(theirs));
    let answer = app.lead.post("/v1/accounts", &body).await;
    answer.assert_problem(422, "invalid_request").assert_member("/grower_id");
    body["grower_id"] = json!(own);
    app.lead.post("/v1/accounts", &body).await.assert_status(201);
    app.lead.post("/v1/accounts", &body).await.assert_problem(409, "already_exists");
    app.stranger.post("/v1/accounts", &ben()).await.assert_problem(409, "already_exists");
}

#[tokio::test]
async fn a_change_needs_the_version_that_was_read() {
    let app = TestApp::start().await;
    let path = path(&app.advisor.account_id);
    let change = json!({"display_name": "Ann", "units": "si"});
    let without = app.lead.send("PATCH", &path, &[], Some(&change)).await;
    without.assert_problem(428, "precondition_required");
    app.lead.patch(&path, "\"7\"", &change).await.assert_problem(412, "stale");
    let after = app.lead.patch(&path, "\"1\"", &change).await.assert_status(200);
    assert_eq!(after.header("etag"), "\"2\"");
    assert_eq!(after.json(), app.lead.get(&path).await.json());
    app.lead.patch(&path, "\"1\"", &change).await.assert_problem(412, "stale");
    let own = json!({"display_name": "Anna"});
    app.advisor.send("PATCH", "/v1/accounts/me", &[], Some(&own)).await.assert_status(200);
    app.lead.patch(&path, "\"2\"", &change).await.assert_problem(412, "stale");
}

#[tokio::test]
async fn a_role_counts_from_the_next_request_on() {
    let app = TestApp::start().await;
    let path = path(&app.advisor.account_id);
    let body = json!({"name": "By the advisor"});
    app.advisor.post("/v1/growers", &body).await.assert_status(201);
    let lower = json!({"role": "read_only"});
    app.lead.patch(&path, "*", &lower).await.assert_status(200);
    let body = json!({"name": "By the reader"});
    app.advisor.post("/v1/growers", &body).await.assert_problem(403, "forbidden");
    app.advisor.get("/v1/growers").await.assert_status(200);
    let without = json!({"role": "grower"});
    let answer = app.lead.patch(&path, "*", &without).await;
    answer.assert_problem(422, "invalid_request").assert_member("/grower_id");
    let grower = json!({"role": "grower", "grower_id": app.own_grower_id});
    let after = app.lead.patch(&path, "*", &grower).await.assert_status(200).json();
    assert_eq!(after["grower_id"], app.own_grower_id.as_str());
    let advisor = json!({"role": "advisor", "grower_id": null});
    let after = app.lead.patch(&path, "*", &advisor).await.assert_status(200).json();
    assert!(after.get("grower_id").is_none(), "{after}");
}

#[tokio::test]
async fn who_is_shut_out_is_out_at_once_and_his_sessions_do_not_come_back() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "advisor").await;
    let path = path(&app.advisor.account_id);
    let answer = app.lead.patch(&path, "*", &json!({"disabled": true})).await.assert_status(200);
    assert_eq!(answer.json()["disabled"], true);
    for out in [&app.advisor, &user(&app, &session)] {
        out.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    }
    refresh(&app.nobody, &session).await.assert_problem(401, "session_ended");
    let body = json!({"email": "advisor@example.org", "password": "a long enough one"});
    app.nobody.post("/v1/sessions", &body).await.assert_problem(401, "wrong_credentials");
    app.lead.patch(&path, "*", &json!({"disabled": false})).await.assert_status(200);
    user(&app, &session).get("/v1/growers").await.assert_problem(401, "unauthenticated");
    refresh(&app.nobody, &session).await.assert_problem(401, "session_ended");
    app.nobody.post("/v1/sessions", &body).await.assert_status(201);
}
