//! Members that both sides changed.

use serde_json::{Value, json};
use tests::TestApp;

use super::{decide, feature, g1, id_of, only, put, square, upstream};

const LIST: &str = "/v1/record-conflicts";

/// A field that both sides renamed; its path.
async fn renamed_twice(app: &TestApp) -> String {
    upstream(app).await;
    let field = put(app, "fields/F-1", &named("North")).await.assert_status(201).json();
    let path = format!("/v1/fields/{}", id_of(&field["field"]));
    app.lead.patch(&path, "*", &json!({"name": "Ours"})).await.assert_status(200);
    path
}

fn named(name: &str) -> Value {
    feature(&g1(), &json!({"farm": "A-1", "name": name}))
}

#[tokio::test]
async fn a_conflict_waits_once_with_all_sides_and_the_rest_is_taken() {
    let app = TestApp::start().await;
    let path = renamed_twice(&app).await;
    let theirs = feature(&square(-93.7, 42.1), &json!({"farm": "A-1", "name": "Theirs"}));
    for _ in 0..3 {
        let answer = put(&app, "fields/F-1", &theirs).await.assert_problem(409, "decision_needed");
        let bad = answer.assert_member("/properties/name");
        assert_eq!((&bad["given"], &bad["why"]), (&json!("Theirs"), &json!("here it is Ours")));
    }
    let conflict = only(&app, LIST).await;
    for (member, wanted) in [
        ("member", "name"),
        ("base", "North"),
        ("ours", "Ours"),
        ("theirs", "Theirs"),
        ("their_id", "F-1"),
    ] {
        assert_eq!(conflict[member], wanted, "{member}");
    }
    assert_eq!(conflict["version"], 1, "the same conflict is no news");
    let field = app.lead.get(&path).await.json();
    assert_eq!(field["name"], "Ours");
    assert_eq!(field["boundary"], square(-93.7, 42.1), "only they changed it");
    // They change it again: still one conflict, against what was taken before it began.
    let theirs = feature(&square(-93.7, 42.1), &json!({"farm": "A-1", "name": "Theirs 2"}));
    put(&app, "fields/F-1", &theirs).await.assert_problem(409, "decision_needed");
    let conflict = only(&app, LIST).await;
    assert_eq!((&conflict["base"], &conflict["theirs"]), (&json!("North"), &json!("Theirs 2")));
    assert_eq!(conflict["version"], 2);
}

#[tokio::test]
async fn a_person_decides_and_it_stays_decided() {
    let app = TestApp::start().await;
    let path = renamed_twice(&app).await;
    put(&app, "fields/F-1", &named("Theirs")).await.assert_problem(409, "decision_needed");
    let conflict = only(&app, LIST).await;
    let kept = decide(&app, LIST, &conflict, &json!({"keep": "ours"})).await.assert_status(200);
    assert_eq!(kept.json(), json!({"kept": "ours"}));
    assert_eq!(app.lead.get(&path).await.json()["name"], "Ours");
    let again = put(&app, "fields/F-1", &named("Theirs")).await.assert_status(200).json();
    assert_eq!(again["outcome"], "unchanged");
    decide(&app, LIST, &conflict, &json!({"keep": "ours"})).await.assert_problem(404, "not_found");

    put(&app, "fields/F-1", &named("Theirs anew")).await.assert_problem(409, "decision_needed");
    let conflict = only(&app, LIST).await;
    assert_eq!(conflict["base"], "Theirs", "what was said before");
    let taken = decide(&app, LIST, &conflict, &json!({"keep": "theirs"})).await.assert_status(200);
    assert_eq!(taken.json()["record"]["outcome"], "changed");
    let field = app.lead.get(&path).await.json();
    assert_eq!((&field["name"], &field["boundary"]), (&json!("Theirs anew"), &g1()));
    let again = put(&app, "fields/F-1", &named("Theirs anew")).await.assert_status(200).json();
    assert_eq!(again["outcome"], "unchanged");
    assert_eq!(app.lead.get(LIST).await.json()["items"], json!([]));
}

#[tokio::test]
async fn a_conflict_ends_when_both_sides_agree() {
    let app = TestApp::start().await;
    let path = renamed_twice(&app).await;
    put(&app, "fields/F-1", &named("Theirs")).await.assert_problem(409, "decision_needed");
    // They take it back.
    put(&app, "fields/F-1", &named("North")).await.assert_status(200);
    assert_eq!(app.lead.get(LIST).await.json()["items"], json!([]));
    assert_eq!(app.lead.get(&path).await.json()["name"], "Ours");
    put(&app, "fields/F-1", &named("Theirs")).await.assert_problem(409, "decision_needed");
    // We call it as they do.
    app.lead.patch(&path, "*", &json!({"name": "Theirs"})).await.assert_status(200);
    put(&app, "fields/F-1", &named("Theirs")).await.assert_status(200);
    assert_eq!(app.lead.get(LIST).await.json()["items"], json!([]));
}

#[tokio::test]
async fn a_decision_that_cant_be_carried_out_leaves_the_conflict() {
    let app = TestApp::start().await;
    let path = renamed_twice(&app).await;
    let neighbour = feature(&square(-93.5, 42.1), &json!({"farm": "A-1", "name": "Taken"}));
    put(&app, "fields/F-2", &neighbour).await.assert_status(201);
    put(&app, "fields/F-1", &named("Taken 2")).await.assert_problem(409, "decision_needed");
    let conflict = only(&app, LIST).await;
    let id = conflict["id"].as_str().expect("an id");
    let read = app.lead.get(&format!("{LIST}/{id}")).await.assert_status(200);
    assert_eq!(read.json(), conflict);
    let neighbour = feature(&square(-93.5, 42.1), &json!({"farm": "A-1", "name": "Taken 2"}));
    put(&app, "fields/F-2", &neighbour).await.assert_status(200);
    let answer = decide(&app, LIST, &conflict, &json!({"keep": "theirs"})).await;
    answer.assert_problem(422, "invalid_request").assert_member("/record/name");
    assert_eq!(only(&app, LIST).await, conflict);
    app.lead.delete(&path).await.assert_status(204);
    let gone = decide(&app, LIST, &conflict, &json!({"keep": "theirs"})).await;
    gone.assert_problem(409, "wrong_state");
    decide(&app, LIST, &conflict, &json!({"keep": "ours"})).await.assert_status(200);
}

#[tokio::test]
async fn boundaries_in_conflict_can_be_drawn() {
    let app = TestApp::start().await;
    let path = renamed_twice(&app).await;
    let ours = json!({"boundary": square(-93.6, 42.0)});
    app.lead.patch(&path, "*", &ours).await.assert_status(200);
    let theirs = feature(&square(-93.61, 42.0), &json!({"farm": "A-1", "name": "North"}));
    put(&app, "fields/F-1", &theirs)
        .await
        .assert_problem(409, "decision_needed")
        .assert_member("/geometry");
    let conflict = only(&app, LIST).await;
    assert_eq!(conflict["member"], "boundary");
    assert_eq!(conflict["their_boundary"], square(-93.61, 42.0));
    assert_eq!(conflict["theirs"], "a boundary of 5 positions");
    decide(&app, LIST, &conflict, &json!({"keep": "theirs"})).await.assert_status(200);
    assert_eq!(app.lead.get(&path).await.json()["boundary"], square(-93.61, 42.0));
}
