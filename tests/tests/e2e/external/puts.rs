//! One record at a time.

use serde_json::json;
use tests::TestApp;

use super::{at, feature, g1, id_of, many, put, square, upstream};

#[tokio::test]
async fn a_record_is_made_then_left_then_changed() {
    let app = TestApp::start().await;
    let (grower, farm) = upstream(&app).await;
    let said = json!({"farm": "A-1", "name": "North forty", "area": {"value": 39.5, "unit": "[acr_us]"},
        "version": "7", "updated_at": "2027-03-02T08:00:00Z"});
    let body = feature(&g1(), &said);
    let made = put(&app, "fields/F-1", &body).await.assert_status(201);
    assert_eq!(made.header("location"), at("fields/F-1"));
    let first = made.json();
    assert_eq!(first["outcome"], "created");
    assert_eq!(first["field"]["farm_id"], farm);
    assert_eq!(first["field"]["boundary"], g1());
    assert_eq!(first["field"]["entered_area"], said["area"]);
    // The oracle G1: 39.506 acres.
    let inside = first["field"]["boundary_area"]["value"].as_f64().expect("an area");
    assert!((inside - 39.506).abs() < 0.001, "{inside}");
    let id = &first["external_id"];
    assert_eq!(
        (&id["system"], &id["kind"], &id["their_id"]),
        (&json!("records"), &json!("field"), &json!("F-1"))
    );
    assert_eq!((&id["their_version"], &id["grower_id"]), (&json!("7"), &json!(grower)));

    let again = put(&app, "fields/F-1", &body).await.assert_status(200);
    assert_eq!(again.json()["outcome"], "unchanged");
    assert_eq!(again.json()["field"], first["field"], "not even its version");
    assert_eq!(many(&app, "fields").await, 1);

    let renamed = feature(&json!(null), &json!({"farm": "A-1", "name": "North 40"}));
    let renamed = put(&app, "fields/F-1", &renamed).await.assert_status(200).json();
    assert_eq!(renamed["outcome"], "changed");
    assert_eq!(renamed["field"]["name"], "North 40");
    assert_eq!(renamed["field"]["boundary"], g1(), "what is not spoken of stays");
    assert_eq!(renamed["field"]["version"], 2);

    let read = app.records_system.get(&at("fields/F-1")).await.assert_status(200);
    assert_eq!(read.json()["field"], renamed["field"]);
    assert!(read.json().get("outcome").is_none());
    let same = app.lead.get(&format!("/v1/fields/{}", id_of(&renamed["field"]))).await.json();
    assert_eq!(read.json()["field"], same);
}

#[tokio::test]
async fn what_we_changed_stays_until_they_change_it_too() {
    let app = TestApp::start().await;
    let (_, _) = upstream(&app).await;
    let body = feature(&g1(), &json!({"farm": "A-1", "name": "North"}));
    let field = put(&app, "fields/F-1", &body).await.assert_status(201).json();
    let path = format!("/v1/fields/{}", id_of(&field["field"]));
    let ours = json!({"name": "North, ours", "notes": "wet"});
    app.lead.patch(&path, "*", &ours).await.assert_status(200);
    let again = put(&app, "fields/F-1", &body).await.assert_status(200).json();
    assert_eq!(
        (&again["outcome"], &again["field"]["name"]),
        (&json!("unchanged"), &json!("North, ours"))
    );
    // They change the boundary only: it is taken, and our name stays.
    let moved = feature(&square(-93.7, 42.1), &json!({"farm": "A-1", "name": "North"}));
    let moved = put(&app, "fields/F-1", &moved).await.assert_status(200).json();
    assert_eq!(moved["field"]["boundary"], square(-93.7, 42.1));
    assert_eq!(
        (&moved["field"]["name"], &moved["field"]["notes"]),
        (&json!("North, ours"), &json!("wet"))
    );
}

#[tokio::test]
async fn an_etag_guards_against_lost_updates() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let send = async |headers: &[(&str, &str)], name: &str| {
        let body = json!({"grower": "G-1", "name": name});
        app.records_system.send("PUT", &at("farms/A-1"), headers, Some(&body)).await
    };
    let etag = app.records_system.get(&at("farms/A-1")).await.header("etag").to_owned();
    assert!(etag.starts_with("\"1."), "{etag}");
    let changed = send(&[("if-match", &etag)], "Home farm").await.assert_status(200);
    assert!(changed.header("etag").starts_with("\"2."), "{}", changed.header("etag"));
    send(&[("if-match", &etag)], "Elsewhere").await.assert_problem(412, "stale");
    send(&[("if-match", "*")], "Home place").await.assert_status(200);
    send(&[("if-none-match", "*")], "Again").await.assert_problem(412, "stale");
    let body = json!({"grower": "G-1", "name": "River"});
    let path = at("farms/A-2");
    let any = app.records_system.send("PUT", &path, &[("if-match", "*")], Some(&body)).await;
    any.assert_status(201);
    let only_new = [("if-none-match", "*")];
    app.records_system
        .send("PUT", &path, &only_new, Some(&body))
        .await
        .assert_problem(412, "stale");
}

#[tokio::test]
async fn their_ids_may_hold_anything() {
    let app = TestApp::start().await;
    upstream(&app).await;
    for (encoded, id) in [
        ("a%2Fb%2Fc", "a/b/c"),
        ("100%25", "100%"),
        ("%252F", "%2F"),
        ("with%20space", "with space"),
        ("plus%2Bplus", "plus+plus"),
        ("%C3%84cker%3F%23", "Äcker?#"),
        ("..%2F..%2Fgrowers", "../../growers"),
    ] {
        let path = format!("farms/{encoded}");
        let made = put(&app, &path, &json!({"grower": "G-1", "name": format!("Farm {id}")})).await;
        let made = made.assert_status(201);
        assert_eq!(made.json()["external_id"]["their_id"], id, "{encoded}");
        let there = app.records_system.get(made.header("location")).await.assert_status(200);
        assert_eq!(there.json()["external_id"]["their_id"], id, "{}", made.header("location"));
        let again = put(&app, &path, &json!({"grower": "G-1", "name": format!("Farm {id}")})).await;
        assert_eq!(again.assert_status(200).json()["outcome"], "unchanged");
    }
    let long = "ß".repeat(200);
    let body = json!({"grower": "G-1", "name": "Long"});
    put(&app, &format!("farms/{long}"), &body).await.assert_status(201);
    let longer = put(&app, &format!("farms/{}", "x".repeat(201)), &body).await;
    longer.assert_problem(422, "invalid_request").assert_member("{their_id}");
    let broken = put(&app, "farms/a%0Ab", &body).await;
    broken.assert_problem(422, "invalid_request").assert_member("{their_id}");
    let other =
        put(&app, "farms/A-9", &json!({"id": "A-8", "grower": "G-1", "name": "Nine"})).await;
    other.assert_problem(422, "invalid_request").assert_member("/id");
    let system =
        app.records_system.send("PUT", "/v1/external/My%20Records/farms/A", &[], Some(&body)).await;
    system.assert_problem(422, "invalid_request").assert_member("{system}");
}

#[tokio::test]
async fn forgetting_an_id_leaves_our_object() {
    let app = TestApp::start().await;
    let (grower, farm) = upstream(&app).await;
    app.records_system.delete(&at("farms/A-1")).await.assert_status(204);
    app.records_system.get(&at("farms/A-1")).await.assert_problem(404, "not_found");
    app.records_system.delete(&at("farms/A-1")).await.assert_problem(404, "not_found");
    app.lead.get(&format!("/v1/farms/{farm}")).await.assert_status(200);
    // Sent again it looks like the one that is here.
    let again = put(&app, "farms/A-1", &json!({"grower": "G-1", "name": "Home"})).await;
    again.assert_problem(409, "decision_needed");
    assert_eq!(many(&app, "farms").await, 1);
    let ids = app.lead.get(&format!("/v1/external-ids?grower_id={grower}")).await.json();
    assert_eq!(ids["items"].as_array().expect("ids").len(), 1, "{ids}");
    let ids = app.lead.get(&format!("/v1/external-ids?farm_id={farm}")).await.json();
    assert_eq!(ids["items"], json!([]));
}

#[tokio::test]
async fn what_was_deleted_here_does_not_come_back() {
    let app = TestApp::start().await;
    let (grower, farm) = upstream(&app).await;
    let body = json!({"grower": "G-1", "name": "Home"});
    app.lead.delete(&format!("/v1/farms/{farm}")).await.assert_status(204);
    put(&app, "farms/A-1", &body).await.assert_problem(404, "not_found");
    let renamed = put(&app, "farms/A-1", &json!({"grower": "G-1", "name": "Home farm"})).await;
    let bad = renamed.assert_problem(422, "invalid_request").assert_member("/id");
    assert!(bad["detail"].as_str().expect("words").contains("deleted here"), "{bad}");
    assert_eq!(many(&app, "farms").await, 0);
    app.records_system.delete(&at("farms/A-1")).await.assert_status(204);
    put(&app, "farms/A-1", &body).await.assert_status(201);
    let farms = app.lead.get("/v1/farms").await.json();
    let farm = id_of(&farms["items"][0]);
    app.lead.delete(&format!("/v1/farms/{farm}")).await.assert_status(204);
    app.lead.delete(&format!("/v1/growers/{grower}")).await.assert_status(204);
}

#[tokio::test]
async fn a_tie_is_told_once_in_the_trail_and_among_changes() {
    let app = TestApp::start().await;
    let (_, farm) = upstream(&app).await;
    put(&app, "farms/A-1", &json!({"grower": "G-1", "name": "Home"})).await.assert_status(200);
    put(&app, "farms/A-1", &json!({"grower": "G-1", "name": "Home place"}))
        .await
        .assert_status(200);
    let trail = app.lead.get(&format!("/v1/audit-events?object_id={farm}")).await.json();
    let told: Vec<_> = trail["items"].as_array().expect("events").iter().collect();
    assert_eq!(told.len(), 2, "{trail}");
    assert!(told.iter().all(|event| event["operation"] == "put_external_farm"), "{trail}");
    assert_eq!(told[0]["object_kind"], "farm");
    let changes = app.lead.get("/v1/changes?limit=200").await.assert_status(200).json();
    let of_farm: Vec<_> = changes["items"]
        .as_array()
        .expect("changes")
        .iter()
        .filter(|change| change["object_id"] == farm)
        .map(|change| change["type"].as_str().expect("a type").to_owned())
        .collect();
    assert_eq!(of_farm, ["farm.created", "farm.changed"], "{changes}");
}
