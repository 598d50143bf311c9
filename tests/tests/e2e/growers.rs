//! Growers.

use serde_json::{Value, json};
use tests::{NOON, TestApp};

#[tokio::test]
async fn a_grower_is_kept_as_given() {
    let app = TestApp::start().await;
    let body = json!({
        "name": "  Krüger & Söhne ", "phone": "555 0100", "email": "K@Example.org",
        "notes": "line one\nline two", "advisor_id": app.advisor.account_id
    });
    let made = app.lead.post("/v1/growers", &body).await.assert_status(201);
    let path = format!("/v1/growers/{}", made.id());
    assert_eq!(made.header("location"), path);
    assert_eq!(made.header("etag"), "\"1\"");
    let mut wanted = json!({
        "name": "Krüger & Söhne", "phone": "555 0100", "email": "k@example.org",
        "notes": "line one\nline two", "advisor_id": app.advisor.account_id,
        "version": 1, "created_at": NOON, "updated_at": NOON
    });
    wanted["id"] = json!(made.id());
    assert_eq!(made.json(), wanted);
    let read = app.read_only.get(&path).await.assert_status(200);
    assert_eq!(read.json(), wanted);
    assert_eq!(read.header("etag"), "\"1\"");
}

#[tokio::test]
async fn a_name_is_taken_once_in_a_practice() {
    let app = TestApp::start().await;
    let body = json!({"name": "Miller Brothers"});
    app.lead.post("/v1/growers", &body).await.assert_problem(409, "already_exists");
    app.stranger.post("/v1/growers", &body).await.assert_status(201);
}

#[tokio::test]
async fn all_bad_members_are_named_at_once() {
    let app = TestApp::start().await;
    let body = json!({"name": "", "phone": "a\nb", "email": "nobody", "notes": "\u{0}"});
    let answer = app.lead.post("/v1/growers", &body).await.assert_problem(422, "invalid_request");
    for pointer in ["/name", "/phone", "/email", "/notes"] {
        answer.assert_member(pointer);
    }
    let stranger = json!({"name": "A", "advisor_id": app.stranger.account_id});
    let answer = app.lead.post("/v1/growers", &stranger).await;
    answer.assert_problem(422, "invalid_request").assert_member("/advisor_id");
}

#[tokio::test]
async fn a_change_needs_the_version_that_was_read() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    let change = json!({"notes": "calls back after dark"});
    let without = app.lead.send("PATCH", &path, &[], Some(&change)).await;
    without.assert_problem(428, "precondition_required");
    for stale in ["\"9\"", "W/\"1\"", "nonsense"] {
        app.lead.patch(&path, stale, &change).await.assert_problem(412, "stale");
    }
    app.clock.advance(chrono::TimeDelta::hours(1));
    let changed = app.lead.patch(&path, "\"1\"", &change).await.assert_status(200);
    assert_eq!(changed.header("etag"), "\"2\"");
    let body = changed.json();
    assert_eq!((&body["version"], &body["notes"]), (&json!(2), &change["notes"]));
    assert_eq!(body["updated_at"], "2027-04-20T13:00:00Z");
    assert_eq!(body["created_at"], NOON);
    app.lead.patch(&path, "\"1\"", &change).await.assert_problem(412, "stale");
    app.lead.patch(&path, "*", &json!({})).await.assert_status(200);
}

#[tokio::test]
async fn absent_stays_and_null_empties() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    let set = json!({"phone": "555 0100", "email": "m@example.org"});
    app.lead.patch(&path, "*", &set).await.assert_status(200);
    let body = app.lead.patch(&path, "*", &json!({"phone": null})).await.assert_status(200).json();
    assert_eq!(body.get("phone"), None);
    assert_eq!(body["email"], "m@example.org");
    assert_eq!(body["name"], "Miller Brothers");
    let refused = app.lead.patch(&path, "*", &json!({"name": null})).await;
    refused.assert_problem(422, "invalid_request").assert_member("/name");
}

#[tokio::test]
async fn of_two_changes_at_once_one_wins() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    let changes: Vec<Value> = (0..8).map(|n| json!({"notes": format!("writer {n}")})).collect();
    let mut tasks = Vec::new();
    for change in changes {
        let (user, path) = (app.lead.clone(), path.clone());
        tasks.push(tokio::spawn(async move { user.patch(&path, "\"1\"", &change).await.status }));
    }
    let mut statuses = Vec::new();
    for task in tasks {
        statuses.push(task.await.expect("a status"));
    }
    assert_eq!(statuses.iter().filter(|status| **status == 200).count(), 1, "{statuses:?}");
    assert_eq!(statuses.iter().filter(|status| **status == 412).count(), 7, "{statuses:?}");
}

#[tokio::test]
async fn what_the_caller_has_is_not_sent_again() {
    let app = TestApp::start().await;
    let path = format!("/v1/growers/{}", app.own_grower_id);
    for tags in ["\"1\"", "W/\"1\"", "\"0\", \"1\"", "*"] {
        let answer = app.lead.send("GET", &path, &[("if-none-match", tags)], None).await;
        let answer = answer.assert_status(304);
        assert_eq!((answer.text.as_str(), answer.header("etag")), ("", "\"1\""), "{tags}");
    }
    let other = app.lead.send("GET", &path, &[("if-none-match", "\"2\"")], None).await;
    other.assert_status(200);
}

#[tokio::test]
async fn a_walk_over_the_pages_sees_each_row_once() {
    let app = TestApp::start().await;
    let mut made = vec![app.own_grower_id.clone()];
    for number in 1..=6 {
        made.push(app.lead.create("/v1/growers", &json!({"name": format!("G {number}")})).await);
    }
    let mut seen = Vec::new();
    let mut path = "/v1/growers?limit=3".to_owned();
    loop {
        let page = app.lead.get(&path).await.assert_status(200);
        let body = page.json();
        for item in body["items"].as_array().expect("items") {
            seen.push(item["id"].as_str().expect("id").to_owned());
        }
        let Some(cursor) = body.get("next_cursor") else {
            assert!(!page.has_header("link"));
            break;
        };
        let next = format!("/v1/growers?limit=3&cursor={}", cursor.as_str().expect("cursor"));
        assert_eq!(page.header("link"), format!("<{next}>; rel=\"next\""));
        path = next;
    }
    assert_eq!(seen, made);
}

#[tokio::test]
async fn a_page_has_1_to_200_rows() {
    let app = TestApp::start().await;
    for limit in ["0", "201", "-1", "x"] {
        let answer = app.lead.get(&format!("/v1/growers?limit={limit}")).await;
        answer.assert_problem(422, "invalid_request").assert_member("?limit");
    }
    let answer = app.lead.get("/v1/growers?cursor=x").await;
    answer.assert_problem(422, "invalid_request").assert_member("?cursor");
    app.lead.get("/v1/growers?limit=200").await.assert_status(200);
}

#[tokio::test]
async fn the_list_can_be_narrowed_to_an_advisor() {
    let app = TestApp::start().await;
    let body = json!({"name": "A", "advisor_id": app.advisor.account_id});
    let id = app.lead.create("/v1/growers", &body).await;
    let path = format!("/v1/growers?advisor_id={}", app.advisor.account_id);
    let items = app.lead.get(&path).await.assert_status(200).json()["items"].clone();
    assert_eq!(items.as_array().map(Vec::len), Some(1));
    assert_eq!(items[0]["id"], id);
}

#[tokio::test]
async fn only_a_grower_nobody_depends_on_is_deleted() {
    let app = TestApp::start().await;
    let id = app.lead.create("/v1/growers", &json!({"name": "A"})).await;
    let path = format!("/v1/growers/{id}");
    let farm = app.lead.create("/v1/farms", &json!({"grower_id": id, "name": "Home farm"})).await;
    app.lead.delete(&path).await.assert_problem(409, "in_use");
    app.lead.delete(&format!("/v1/farms/{farm}")).await.assert_status(204);
    let stale = app.lead.send("DELETE", &path, &[("if-match", "\"7\"")], None).await;
    stale.assert_problem(412, "stale");
    app.lead.delete(&path).await.assert_status(204);
    app.lead.get(&path).await.assert_problem(404, "not_found");
    app.lead.delete(&path).await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn a_grower_sees_and_touches_only_what_is_his_own() {
    let app = TestApp::start().await;
    let other = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let items = app.grower.get("/v1/growers").await.assert_status(200).json()["items"].clone();
    assert_eq!(items.as_array().map(Vec::len), Some(1));
    assert_eq!(items[0]["id"], app.own_grower_id.as_str());
    let neighbour = format!("/v1/growers/{other}");
    app.grower.get(&neighbour).await.assert_problem(404, "not_found");
    let body = json!({"name": "B"});
    app.grower.post("/v1/growers", &body).await.assert_problem(403, "forbidden");
    let own = format!("/v1/growers/{}", app.own_grower_id);
    app.grower.patch(&own, "*", &body).await.assert_problem(403, "forbidden");
    app.grower.delete(&own).await.assert_problem(403, "forbidden");
}
