//! What is missing upstream: marked, never deleted.

use std::collections::HashSet;

use api::auth::role::Role;
use api::exchange::intake::{By, Kind, System, mark_missing};
use api::writes::Actor;
use serde_json::json;
use tests::TestApp;

use super::{at, many, put, upstream};

pub(super) async fn listed(app: &TestApp, seen: &[&str]) -> u64 {
    let state = app.state();
    let actor = Actor {
        practice_id: app.practice_id,
        account_id: app.lead.account_id.parse().expect("an id"),
        role: Role::Lead,
        client_id: None,
    };
    let by = By { actor, operation: "test".to_owned(), request_id: String::new() };
    let system = System::parse("/system", "records").expect("a name");
    let seen: HashSet<String> = seen.iter().map(ToString::to_string).collect();
    let tx = api::db::begin(&state.db).await.expect("a transaction");
    let marked = mark_missing(&tx, state, &by, &system, Kind::Farm, &seen).await.expect("marked");
    tx.commit().await.expect("committed");
    marked
}

#[tokio::test]
async fn what_a_full_listing_lacks_is_marked_until_it_is_seen_again() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let river = json!({"grower": "G-1", "name": "River"});
    put(&app, "farms/A-2", &river).await.assert_status(201);
    put(&app, "growers/G-2", &json!({"name": "miller brothers"}))
        .await
        .assert_problem(409, "decision_needed");
    put(&app, "farms/A-3", &json!({"grower": "G-2", "name": "Waits"}))
        .await
        .assert_problem(409, "decision_needed");
    assert_eq!(listed(&app, &["A-1"]).await, 1);
    assert_eq!(listed(&app, &["A-1"]).await, 0, "marked once");
    assert_eq!(many(&app, "farms").await, 2, "nothing is deleted");
    let gone = app.lead.get("/v1/external/records?gone=true").await.json();
    assert_eq!(gone["items"].as_array().expect("ids").len(), 1);
    assert_eq!(gone["items"][0]["their_id"], "A-2");
    assert!(gone["items"][0]["gone_since"].is_string());
    let waiting = app.lead.get("/v1/record-matches?kind=farm").await.json();
    assert_eq!(waiting["items"], json!([]), "what waited and is gone waits no more");
    let again = put(&app, "farms/A-2", &river).await.assert_status(200).json();
    assert_eq!(again["outcome"], "unchanged");
    assert!(again["external_id"].get("gone_since").is_none(), "{again}");
    let there = app.lead.get(&at("farms/A-2")).await.json();
    assert!(there["external_id"].get("gone_since").is_none());
}
