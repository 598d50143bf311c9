//! Yields.

use serde_json::{Value, json};
use tests::TestApp;

use super::{at, batch, feature, g1, id_of, many, put, upstream};

fn harvest() -> Value {
    json!({
        "field": "F-1", "harvested_on": "2026-10-12", "crop": "corn",
        "grain": {"value": 11200, "unit": "[lb_av]/[acr_us]"}, "basis": "at_moisture",
        "moisture": {"value": 18.2, "unit": "%"}
    })
}

#[tokio::test]
async fn a_yield_is_taken_corrected_and_checked() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let field = feature(&g1(), &json!({"farm": "A-1", "name": "North"}));
    let field = put(&app, "fields/F-1", &field).await.assert_status(201).json();
    let made = put(&app, "yields/Y-1", &harvest()).await.assert_status(201).json();
    assert_eq!(made["yield"]["field_id"], id_of(&field["field"]));
    assert_eq!(made["yield"]["grain"], json!({"value": 11200.0, "unit": "[lb_av]/[acr_us]"}));
    assert_eq!(
        put(&app, "yields/Y-1", &harvest()).await.assert_status(200).json()["outcome"],
        "unchanged"
    );
    let mut dryer = harvest();
    dryer["moisture"] = json!({"value": 15.5, "unit": "%"});
    let dryer = put(&app, "yields/Y-1", &dryer).await.assert_status(200).json();
    assert_eq!(
        (&dryer["outcome"], &dryer["yield"]["moisture"]["value"]),
        (&json!("changed"), &json!(15.5))
    );
    assert_eq!(many(&app, "yields").await, 1);
    app.lead.get(&at("yields/Y-1")).await.assert_status(200);

    let bad = |member: &str, value: Value| {
        let mut body = harvest();
        body[member] = value;
        body
    };
    for (body, pointer) in [
        (bad("harvested_on", json!("2031-01-01")), "/harvested_on"),
        (bad("moisture", json!({"value": 80, "unit": "%"})), "/moisture"),
        (bad("grain", json!({"value": -1, "unit": "t/har"})), "/grain"),
        (bad("field", json!("F-9")), "/field"),
        (json!({"field": "F-1", "crop": "corn"}), "/harvested_on"),
    ] {
        let answer = put(&app, "yields/Y-2", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    // The same harvest under another id would count twice.
    let twice = put(&app, "yields/Y-2", &harvest()).await;
    twice.assert_problem(422, "invalid_request").assert_member("/id");
}

#[tokio::test]
async fn the_same_harvest_under_two_ids_counts_once_and_keeps_nothing_back() {
    let app = TestApp::start().await;
    upstream(&app).await;
    let field = feature(&g1(), &json!({"farm": "A-1", "name": "North"}));
    let field = put(&app, "fields/F-1", &field).await.assert_status(201).json();
    let with_id = |id: &str| {
        let mut harvest = harvest();
        harvest["id"] = json!(id);
        harvest
    };
    let mut other = with_id("Y-4");
    other["harvested_on"] = json!("2026-10-13");
    let yields = json!({"yields": [with_id("Y-2"), with_id("Y-1"), other]});
    let done = batch(&app, &yields).await;
    let outcomes: Vec<&str> = done["records"]
        .as_array()
        .expect("records")
        .iter()
        .map(|record| record["outcome"].as_str().expect("a word"))
        .collect();
    assert_eq!(outcomes, ["refused", "created", "created"], "the first in order of ids: {done}");
    assert_eq!(done["records"][0]["refused"][0]["pointer"], "/yields/0/id");
    let again = batch(&app, &yields).await;
    assert_eq!(
        (&again["counts"]["unchanged"], &again["counts"]["refused"]),
        (&json!(2), &json!(1))
    );
    assert_eq!(many(&app, "yields").await, 2);

    // One that somebody entered here is tied, and told to nobody as new.
    let entered = json!({
        "harvested_on": "2026-10-14", "crop": "corn", "basis": "dry",
        "grain": {"value": 8, "unit": "t/har"}
    });
    let path = format!("/v1/fields/{}/yields", id_of(&field["field"]));
    let ours = app.lead.create(&path, &entered).await;
    let mut same = entered.clone();
    same["field"] = json!("F-1");
    let tied = put(&app, "yields/Y-5", &same).await.assert_status(201).json();
    assert_eq!(tied["yield"]["id"], ours);
    let trail = format!("/v1/audit-events?object_id={ours}");
    let trail = app.lead.get(&trail).await.assert_status(200).json();
    assert_eq!(trail["items"].as_array().expect("events").len(), 1, "{trail}");
}
