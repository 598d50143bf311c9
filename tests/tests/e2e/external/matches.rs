//! New records that look like objects that are here.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{at, batch, decide, feature, id_of, many, only, put, square, upstream};

const LIST: &str = "/v1/record-matches";

#[tokio::test]
async fn a_look_alike_waits_once_and_is_tied_when_a_person_says_so() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let said = json!({"name": "MILLER  brothers.", "phone": "555 0100"});
    for _ in 0..3 {
        let answer = put(&app, "growers/G-1", &said).await.assert_problem(409, "decision_needed");
        let detail = answer.json()["detail"].as_str().expect("words").to_owned();
        let id = only(&app, LIST).await["id"].as_str().expect("an id").to_owned();
        assert!(detail.contains(&format!("/v1/record-matches/{id}")), "{detail}");
    }
    let waiting = only(&app, LIST).await;
    assert_eq!((&waiting["version"], &waiting["waits_for"]), (&json!(1), &json!("decision")));
    let candidate =
        json!({"object_id": stead.grower, "name": "Miller Brothers", "names": "nearly"});
    assert_eq!(waiting["candidates"], json!([candidate]));
    app.records_system.get(&at("growers/G-1")).await.assert_problem(404, "not_found");

    // What belongs to it waits with it, and is taken up when it is decided.
    let farm = json!({"grower": "G-1", "name": "River farm"});
    put(&app, "farms/A-1", &farm).await.assert_problem(409, "decision_needed");
    let field = feature(&square(-93.0, 42.0), &json!({"farm": "A-1", "name": "Far"}));
    put(&app, "fields/F-1", &field).await.assert_problem(409, "decision_needed");
    let parents = app.lead.get(&format!("{LIST}?waits_for=parent&count=true")).await.json();
    assert_eq!(parents["total"]["rows"], 2, "{parents}");

    let same = json!({"decision": "same", "object_id": stead.grower});
    let done = decide(&app, LIST, &waiting, &same).await.assert_status(200).json();
    assert_eq!(done["record"]["outcome"], "changed");
    assert_eq!(done["followed"]["created"], 2, "{done}");
    let grower = app.lead.get(&at("growers/G-1")).await.assert_status(200).json();
    assert_eq!(grower["grower"]["id"], stead.grower);
    assert_eq!(grower["grower"]["name"], "MILLER  brothers.", "names follow the records system");
    app.lead.get(&at("fields/F-1")).await.assert_status(200);
    assert_eq!(app.lead.get(LIST).await.json()["items"], json!([]));
    decide(&app, LIST, &waiting, &same).await.assert_problem(404, "not_found");
    assert_eq!(
        put(&app, "growers/G-1", &said).await.assert_status(200).json()["outcome"],
        "unchanged"
    );
}

#[tokio::test]
async fn land_shows_a_field_under_another_name_on_another_farm() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let farm = json!({"grower_id": stead.grower, "name": "Other farm"});
    put(&app, "farms/A-1", &farm).await.assert_status(201);
    // Half of the field "North forty" of the farmstead, which is a square of a hundredth of a degree.
    let field = feature(&square(-93.616, 42.03), &json!({"farm": "A-1", "name": "The long one"}));
    put(&app, "fields/F-1", &field).await.assert_problem(409, "decision_needed");
    let waiting = only(&app, LIST).await;
    let candidate = &waiting["candidates"][0];
    assert_eq!(
        (&candidate["object_id"], &candidate["names"]),
        (&json!(stead.field), &json!("different"))
    );
    // 6 of 14 parts, by hand.
    assert_eq!(candidate["overlap"], 0.43);
    assert_eq!(waiting["grower_id"], stead.grower);
    let of = |grower: &str| format!("{LIST}?grower_id={grower}");
    assert_eq!(only(&app, &of(&stead.grower)).await["id"], waiting["id"]);
    let somebody = app.lead.create("/v1/growers", &json!({"name": "Somebody"})).await;
    assert_eq!(app.lead.get(&of(&somebody)).await.assert_status(200).json()["items"], json!([]));
    let done = decide(&app, LIST, &waiting, &json!({"decision": "new"})).await.assert_status(200);
    assert_eq!(done.json()["record"]["outcome"], "created");
    assert_eq!(many(&app, "fields").await, 2);
    // A neighbour that only shares an edge is no look-alike, nor is land of another grower.
    let beside = feature(&square(-93.606, 42.03), &json!({"farm": "A-1", "name": "Beside"}));
    put(&app, "fields/F-2", &beside).await.assert_status(201);
    upstream_elsewhere(&app).await;
}

async fn upstream_elsewhere(app: &TestApp) {
    put(app, "growers/G-9", &json!({"name": "Somebody else"})).await.assert_status(201);
    put(app, "farms/A-9", &json!({"grower": "G-9", "name": "Home"})).await.assert_status(201);
    let field = feature(&square(-93.62, 42.03), &json!({"farm": "A-9", "name": "North forty"}));
    put(app, "fields/F-9", &field).await.assert_status(201);
}

#[tokio::test]
async fn a_decision_is_checked() {
    let app = TestApp::start().await;
    let (_, farm) = upstream(&app).await;
    let other = app.lead.create("/v1/growers", &json!({"name": "Third"})).await;
    put(&app, "growers/G-2", &json!({"name": "third"}))
        .await
        .assert_problem(409, "decision_needed");
    let waiting = only(&app, LIST).await;
    for (body, pointer) in [
        (json!({"decision": "same"}), "/object_id"),
        (json!({"decision": "same", "object_id": farm}), "/object_id"),
        (json!({"decision": "new", "object_id": other}), "/object_id"),
        (json!({"decision": "perhaps"}), "/decision"),
    ] {
        let answer = decide(&app, LIST, &waiting, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    // One object has one id in a records system.
    let tied = app.lead.get(&at("growers/G-1")).await.json();
    let taken = json!({"decision": "same", "object_id": id_of(&tied["grower"])});
    let answer = decide(&app, LIST, &waiting, &taken).await;
    answer.assert_problem(422, "invalid_request").assert_member("/object_id");
    // What it says may have changed since it was read.
    put(&app, "growers/G-2", &json!({"name": "THIRD"}))
        .await
        .assert_problem(409, "decision_needed");
    let same = json!({"decision": "same", "object_id": other});
    decide(&app, LIST, &waiting, &same).await.assert_problem(412, "stale");
    let path = format!("{LIST}/{}/decision", waiting["id"].as_str().expect("an id"));
    app.lead.post(&path, &same).await.assert_problem(428, "precondition_required");
    // A name that is taken can't be made anew.
    put(&app, "growers/G-2", &json!({"name": "Third"}))
        .await
        .assert_problem(409, "decision_needed");
    let waiting = only(&app, LIST).await;
    let new = decide(&app, LIST, &waiting, &json!({"decision": "new"})).await;
    new.assert_problem(422, "invalid_request").assert_member("/record/name");
    decide(&app, LIST, &waiting, &same).await.assert_status(200);
}

#[tokio::test]
async fn a_caller_may_say_that_look_alikes_are_new() {
    let app = TestApp::start().await;
    let body = json!({"growers": [{"id": "G-1", "name": "MILLER BROTHERS"}]});
    let waits = batch(&app, &body).await;
    assert_eq!(waits["counts"]["waiting"], 1);
    assert_eq!(waits["records"][0]["waits_for"], "decision");
    let path = "/v1/external/records/batch?look_alikes=create";
    let made = app.records_system.post(path, &body).await.assert_status(200).json();
    assert_eq!(made["counts"]["created"], 1, "{made}");
    assert_eq!(app.lead.get(LIST).await.json()["items"], json!([]), "it waits no more");
    // Letter by letter the same name can't be there twice.
    let exact = json!({"growers": [{"id": "G-2", "name": "Miller Brothers"}]});
    let refused = app.records_system.post(path, &exact).await.assert_status(200).json();
    assert_eq!(refused["records"][0]["refused"][0]["pointer"], "/growers/0/name", "{refused}");
}

#[tokio::test]
async fn what_no_longer_looks_alike_is_taken_when_it_comes_again() {
    let app = TestApp::start().await;
    let said = json!({"name": "miller brothers"});
    put(&app, "growers/G-1", &said).await.assert_problem(409, "decision_needed");
    let path = format!("/v1/growers/{}", app.own_grower_id);
    app.lead.patch(&path, "*", &json!({"name": "Someone"})).await.assert_status(200);
    put(&app, "growers/G-1", &said).await.assert_status(201);
    assert_eq!(app.lead.get(LIST).await.json()["items"], json!([]));
}
