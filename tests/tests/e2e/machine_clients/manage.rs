//! Making, changing and deleting machine clients.

use serde_json::json;
use tests::TestApp;

use super::{ask, make, records};

#[tokio::test]
async fn a_client_is_made_listed_read_changed_and_deleted() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let got = app.lead.get(&client.path()).await.assert_status(200);
    assert_eq!(got.header("etag"), "\"1\"");
    let body = got.json();
    assert_eq!(body["name"], "Records of the county");
    assert_eq!(body["role"], "records_system");
    assert_eq!(body["scopes"], json!(["read", "keep"]));
    assert_eq!(body["disabled"], false);
    let list = app.lead.get("/v1/machine-clients").await.assert_status(200);
    assert_eq!(list.json()["items"], json!([body]));
    assert!(!list.text.contains(&client.secret));

    let change = json!({"name": "Records", "scopes": ["read"]});
    let bare = app.lead.send("PATCH", &client.path(), &[], Some(&change)).await;
    bare.assert_problem(428, "precondition_required");
    let changed = app.lead.patch(&client.path(), "\"1\"", &change).await.assert_status(200);
    assert_eq!(changed.header("etag"), "\"2\"");
    assert_eq!(changed.json()["scopes"], json!(["read"]));
    app.lead.patch(&client.path(), "\"1\"", &change).await.assert_problem(412, "stale");

    app.lead.delete(&client.path()).await.assert_status(204);
    app.lead.get(&client.path()).await.assert_problem(404, "not_found");
    assert_eq!(app.lead.get("/v1/machine-clients").await.json()["items"], json!([]));
    records(&app).await; // the name is free again
}

#[tokio::test]
async fn a_page_of_clients_leads_to_the_next() {
    let app = TestApp::start().await;
    for name in ["A", "B", "C"] {
        make(&app, name, "read_only", &["read"]).await;
    }
    let first = app.lead.get("/v1/machine-clients?limit=2").await.assert_status(200).json();
    let cursor = first["next_cursor"].as_str().expect("a cursor");
    let next = format!("/v1/machine-clients?limit=2&cursor={cursor}");
    let second = app.lead.get(&next).await.assert_status(200).json();
    let names = |page: &serde_json::Value| -> Vec<String> {
        let items = page["items"].as_array().expect("items");
        items.iter().map(|item| item["name"].as_str().expect("a name").to_owned()).collect()
    };
    assert_eq!((names(&first), names(&second)), (vec!["A".into(), "B".into()], vec!["C".into()]));
    assert!(second.get("next_cursor").is_none());
}

#[tokio::test]
async fn what_a_client_can_not_be_is_refused_by_name() {
    let app = TestApp::start().await;
    records(&app).await;
    for (body, pointer) in [
        (json!({"name": "", "role": "read_only", "scopes": ["read"]}), "/name"),
        (json!({"name": "A", "role": "lead", "scopes": ["read"]}), "/role"),
        (json!({"name": "A", "role": "read_only", "scopes": []}), "/scopes"),
        (json!({"name": "A", "role": "read_only", "scopes": ["read", "keep"]}), "/scopes/1"),
        (json!({"name": "A", "role": "records_system", "scopes": ["advise"]}), "/scopes/0"),
    ] {
        let answer = app.lead.post("/v1/machine-clients", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let again = json!({"name": "Records of the county", "role": "read_only", "scopes": ["read"]});
    app.lead.post("/v1/machine-clients", &again).await.assert_problem(409, "already_exists");
    let client = make(&app, "B", "read_only", &["read"]).await;
    let wider = json!({"scopes": ["keep"]});
    let answer = app.lead.patch(&client.path(), "*", &wider).await;
    answer.assert_problem(422, "invalid_request").assert_member("/scopes/0");
}

#[tokio::test]
async fn only_the_lead_of_the_practice_has_to_do_with_clients() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    for user in [&app.advisor, &app.grower, &app.read_only] {
        user.get("/v1/machine-clients").await.assert_problem(403, "forbidden");
        user.delete(&client.path()).await.assert_problem(403, "forbidden");
    }
    let secrets = format!("{}/secrets", client.path());
    let secret = format!("{secrets}/{}", client.secret_id);
    let change = json!({"disabled": true});
    app.stranger.get(&client.path()).await.assert_problem(404, "not_found");
    app.stranger.patch(&client.path(), "*", &change).await.assert_problem(404, "not_found");
    app.stranger.delete(&client.path()).await.assert_problem(404, "not_found");
    app.stranger.get(&secrets).await.assert_problem(404, "not_found");
    app.stranger.send("POST", &secrets, &[], None).await.assert_problem(404, "not_found");
    app.stranger.delete(&secret).await.assert_problem(404, "not_found");
    assert_eq!(app.stranger.get("/v1/machine-clients").await.json()["items"], json!([]));
    client.token(&app, "").await; // nothing was changed
}

#[tokio::test]
async fn a_secret_is_changed_without_a_stop() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let secrets = format!("{}/secrets", client.path());
    let made = app.lead.send("POST", &secrets, &[], None).await.assert_status(201);
    assert_eq!(made.header("cache-control"), "no-store");
    let new = made.json()["client_secret"].as_str().expect("a secret").to_owned();
    let third = app.lead.send("POST", &secrets, &[], None).await;
    third.assert_problem(409, "wrong_state");

    client.token(&app, "").await;
    app.clock.advance(chrono::TimeDelta::hours(1));
    let changed = super::Client { id: client.id.clone(), secret: new, secret_id: String::new() };
    changed.token(&app, "").await;
    let list = app.lead.get(&secrets).await.assert_status(200);
    let used: Vec<_> = list.json()["items"]
        .as_array()
        .expect("items")
        .iter()
        .map(|s| s["last_used_at"].clone())
        .collect();
    assert_eq!(used, [json!("2027-04-20T12:00:00Z"), json!("2027-04-20T13:00:00Z")]);
    assert!(!list.text.contains(&client.secret) && !list.text.contains("hash"));

    app.lead.delete(&format!("{secrets}/{}", client.secret_id)).await.assert_status(204);
    let old = ask(&app, &[], &client.form("")).await.assert_status(401);
    assert_eq!(old.json()["error"], "invalid_client");
    changed.token(&app, "").await;
    let gone = app.lead.delete(&format!("{secrets}/{}", client.secret_id)).await;
    gone.assert_problem(404, "not_found");
}

#[tokio::test]
async fn of_three_secrets_at_once_one_is_made() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let secrets = format!("{}/secrets", client.path());
    let one = || app.lead.send("POST", &secrets, &[], None);
    let (a, b, c) = tokio::join!(one(), one(), one());
    let mut statuses = [a.status, b.status, c.status];
    statuses.sort_unstable();
    assert_eq!(statuses[0], 201, "{statuses:?}");
    assert!(statuses[1..].iter().all(|status| [409, 412].contains(status)), "{statuses:?}");
    let list = app.lead.get(&secrets).await.json();
    assert_eq!(list["items"].as_array().map(Vec::len), Some(2));
}

#[tokio::test]
async fn the_account_of_a_client_is_no_person() {
    let app = TestApp::start().await;
    let client = records(&app).await;
    let accounts = app.lead.get("/v1/accounts").await.assert_status(200);
    assert!(!accounts.text.contains("account.invalid"), "{}", accounts.text);
    assert!(!accounts.text.contains("Records of the county"), "{}", accounts.text);
    let sign_in = json!({"email": format!("{}@account.invalid", client.id), "password": "!"});
    app.nobody.post("/v1/sessions", &sign_in).await.assert_problem(401, "wrong_credentials");
}
