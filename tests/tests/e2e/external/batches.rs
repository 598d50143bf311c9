//! Many records at once.

use serde_json::{Value, json};
use tests::TestApp;

use super::{at, batch, feature, g1, id_of, many, square};

/// Two growers with a farm each, and a field.
fn three_levels() -> Value {
    json!({
        "growers": [{"id": "G-1", "name": "One"}, {"id": "G-2", "name": "Two"}],
        "farms": [
            {"id": "A-1", "grower": "G-1", "name": "Home"}, {"id": "A-2", "grower": "G-2", "name": "Home"}
        ],
        "fields": {"type": "FeatureCollection", "features": [{
            "type": "Feature", "id": "F-1", "geometry": g1(), "properties": {"farm": "A-1", "name": "North"}
        }]}
    })
}

#[tokio::test]
async fn a_batch_brings_what_belongs_together() {
    let app = TestApp::start().await;
    let before = many(&app, "growers").await;
    let path = "/v1/external/records/batch?dry_run=true";
    let planned = app.records_system.post(path, &three_levels()).await.assert_status(200).json();
    assert_eq!((&planned["dry_run"], &planned["counts"]["created"]), (&json!(true), &json!(5)));
    assert!(planned["records"][0].get("object_id").is_none(), "{planned}");
    assert_eq!(many(&app, "growers").await, before, "a dry run stores nothing");

    let done = batch(&app, &three_levels()).await;
    assert_eq!(done["counts"]["created"], 5, "{done}");
    let places: Vec<&str> = done["records"]
        .as_array()
        .expect("records")
        .iter()
        .map(|record| record["place"].as_str().expect("a place"))
        .collect();
    assert_eq!(places, ["/growers/0", "/growers/1", "/farms/0", "/farms/1", "/fields/features/0"]);
    let field = app.lead.get(&at("fields/F-1")).await.assert_status(200).json();
    assert_eq!(id_of(&field["field"]), done["records"][4]["object_id"].as_str().expect("an id"));
    let again = batch(&app, &three_levels()).await;
    assert_eq!(
        again["counts"],
        json!({"created": 0, "changed": 0, "unchanged": 5, "waiting": 0,
        "conflicts": 0, "refused": 0})
    );
}

#[tokio::test]
async fn what_is_refused_keeps_nothing_else_back_but_what_belongs_to_it() {
    let app = TestApp::start().await;
    let mut body = three_levels();
    body["growers"][1]["name"] = json!("  ");
    body["farms"].as_array_mut().expect("farms").push(json!({"grower": "G-1", "name": "No id"}));
    let done = batch(&app, &body).await;
    assert_eq!((&done["counts"]["created"], &done["counts"]["refused"]), (&json!(3), &json!(3)));
    let records = done["records"].as_array().expect("records");
    assert_eq!(records[1]["refused"][0]["pointer"], "/growers/1/name");
    let orphan = &records[3]["refused"][0];
    assert_eq!(orphan["pointer"], "/farms/1/grower");
    assert!(orphan["detail"].as_str().expect("words").contains("/growers/1"), "{orphan}");
    assert_eq!(records[4]["refused"][0]["pointer"], "/farms/2/id");
    app.lead.get(&at("fields/F-1")).await.assert_status(200);
}

#[tokio::test]
async fn the_order_of_records_does_not_matter_and_names_may_be_exchanged() {
    let app = TestApp::start().await;
    batch(&app, &three_levels()).await;
    let field = |id: &str, name: &str, west: f64| {
        let mut it = feature(&square(west, 42.0), &json!({"farm": "A-1", "name": name}));
        it["id"] = json!(id);
        it
    };
    let send = async |features: Vec<Value>| {
        batch(&app, &json!({"fields": {"type": "FeatureCollection", "features": features}})).await
    };
    let made = send(vec![field("F-2", "West", -93.3), field("F-3", "East", -93.2)]).await;
    assert_eq!(made["counts"]["created"], 2, "{made}");
    let exchanged = send(vec![field("F-2", "East", -93.3), field("F-3", "West", -93.2)]).await;
    assert_eq!(exchanged["counts"]["changed"], 2, "{exchanged}");
    let second = app.lead.get(&at("fields/F-2")).await.json();
    assert_eq!(second["field"]["name"], "East");
    // A ring of names, in any order.
    let ring = send(vec![field("F-3", "North", -93.2), field("F-2", "West", -93.3), {
        let mut first = feature(&g1(), &json!({"farm": "A-1", "name": "East"}));
        first["id"] = json!("F-1");
        first
    }])
    .await;
    assert_eq!(ring["counts"]["changed"], 3, "{ring}");
    // A new field takes the name that another one gives up, whichever comes first.
    let moved = send(vec![field("F-4", "West", -93.4), field("F-2", "Far west", -93.3)]).await;
    assert_eq!((&moved["counts"]["created"], &moved["counts"]["changed"]), (&json!(1), &json!(1)));
    let fourth = app.lead.get(&at("fields/F-4")).await.json();
    assert_eq!(fourth["field"]["name"], "West");
    // Two that want one name are both refused, whichever comes first.
    for features in [
        vec![field("F-2", "Same", -93.3), field("F-3", "Same", -93.2)],
        vec![field("F-3", "Same", -93.2), field("F-2", "Same", -93.3)],
    ] {
        let refused = send(features).await;
        assert_eq!(refused["counts"]["refused"], 2, "{refused}");
    }
    let taken = send(vec![field("F-2", "North", -93.3)]).await;
    let bad = &taken["records"][0]["refused"][0];
    assert_eq!(bad["pointer"], "/fields/features/0/properties/name");
    assert!(bad["detail"].as_str().expect("words").contains("taken"), "{bad}");
}

#[tokio::test]
async fn one_id_twice_is_taken_once_or_not_at_all() {
    let app = TestApp::start().await;
    let grower = |name: &str| json!({"id": "G-1", "name": name});
    let twice = batch(&app, &json!({"growers": [grower("One"), grower("One")]})).await;
    assert_eq!(
        (&twice["counts"]["created"], &twice["counts"]["unchanged"]),
        (&json!(1), &json!(1))
    );
    let differing = batch(&app, &json!({"growers": [grower("Other"), grower("Another")]})).await;
    assert_eq!(differing["counts"]["refused"], 2);
    let detail = differing["records"][1]["refused"][0]["detail"].as_str().expect("words");
    assert!(detail.contains("/growers/0; /growers/1"), "{detail}");
    let one = app.lead.get(&at("growers/G-1")).await.json();
    assert_eq!(one["grower"]["name"], "One");
}

#[tokio::test]
async fn a_batch_has_an_end_and_keys_work() {
    let app = TestApp::start().await;
    let growers: Vec<Value> =
        (0..501).map(|n| json!({"id": format!("G-{n}"), "name": format!("Grower {n}")})).collect();
    let path = "/v1/external/records/batch";
    let many_growers = json!({"growers": growers});
    app.records_system.post(path, &many_growers).await.assert_problem(422, "invalid_request");
    let some = json!({"growers": many_growers["growers"].as_array().expect("growers")[..500]});
    let key = [("idempotency-key", "once")];
    let first = app.records_system.send("POST", path, &key, Some(&some)).await.assert_status(200);
    assert_eq!(first.json()["counts"]["created"], 500);
    let again = app.records_system.send("POST", path, &key, Some(&some)).await.assert_status(200);
    assert_eq!(again.header("idempotency-replayed"), "true");
    assert_eq!(again.json(), first.json());
    let listed = app.lead.get("/v1/external/records?kind=grower&count=true&limit=200").await.json();
    assert_eq!(listed["total"], json!({"rows": 500, "exact": true}));
    assert!(listed["next_cursor"].is_string());
    let wrong = json!({"growers": [{"id": "G-1", "nick": "x"}]});
    let wrong = app.records_system.post(path, &wrong).await;
    wrong.assert_problem(422, "invalid_request").assert_member("/growers/0/nick");
}
