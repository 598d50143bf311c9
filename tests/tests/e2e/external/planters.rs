//! Planters: what Dibble needs beyond what records systems know is asked for, not made up.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{as_answered, at, decide, only, put, upstream};

const LIST: &str = "/v1/record-matches";

#[tokio::test]
async fn a_new_planter_waits_for_its_makeup_and_then_follows() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let spacing = json!({"value": 76.2, "unit": "cm"});
    let said = json!({"grower": "G-1", "name": "The eight", "rows": 8, "row_spacing": spacing});
    put(&app, "planters/P-1", &said).await.assert_problem(409, "decision_needed");
    let waiting = only(&app, LIST).await;
    assert_eq!((&waiting["waits_for"], &waiting["candidates"]), (&json!("makeup"), &json!([])));
    let without = decide(&app, LIST, &waiting, &json!({"decision": "new"})).await;
    without.assert_problem(422, "invalid_request").assert_member("/makeup");
    let makeup = as_answered(&Farmstead::planter_body(&grower)["makeup"]);
    let new = json!({"decision": "new", "makeup": makeup});
    decide(&app, LIST, &waiting, &new).await.assert_status(200);
    let planter = app.lead.get(&at("planters/P-1")).await.assert_status(200).json();
    assert_eq!(
        (&planter["planter"]["name"], &planter["planter"]["makeup"]),
        (&json!("The eight"), &makeup)
    );
    // 76.2 cm are 30 in: nothing to change.
    assert_eq!(
        put(&app, "planters/P-1", &said).await.assert_status(200).json()["outcome"],
        "unchanged"
    );
    let wider = json!({"grower": "G-1", "name": "The eight", "rows": 8,
        "row_spacing": {"value": 36, "unit": "[in_i]"}});
    let wider = put(&app, "planters/P-1", &wider).await.assert_status(200).json();
    assert_eq!(wider["planter"]["makeup"]["row_width"], json!({"value": 36.0, "unit": "[in_i]"}));
    assert_eq!(wider["planter"]["makeup"]["unit"], makeup["unit"], "the rest of the make-up stays");
}

#[tokio::test]
async fn a_planter_that_is_here_is_tied_and_a_makeup_that_breaks_is_refused() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let mut here = Farmstead::planter_body(&grower);
    here["makeup"]["tyre_rows"] = json!([3, 6]);
    let id = app.lead.create("/v1/planters", &here).await;
    let said = json!({"grower": "G-1", "name": "the eight row", "rows": 8});
    put(&app, "planters/P-1", &said).await.assert_problem(409, "decision_needed");
    let waiting = only(&app, LIST).await;
    assert_eq!(waiting["candidates"][0]["object_id"], id);
    let same = json!({"decision": "same", "object_id": id});
    decide(&app, LIST, &waiting, &same).await.assert_status(200);
    let fewer = json!({"grower": "G-1", "name": "the eight row", "rows": 4});
    let answer = put(&app, "planters/P-1", &fewer).await;
    let bad = answer.assert_problem(422, "invalid_request").assert_member("/rows");
    assert!(bad["detail"].as_str().expect("words").contains("/makeup/tyre_rows"), "{bad}");
    let none = json!({"grower": "G-1", "name": "the eight row", "rows": 0});
    put(&app, "planters/P-1", &none)
        .await
        .assert_problem(422, "invalid_request")
        .assert_member("/rows");
}

#[tokio::test]
async fn a_records_system_that_knows_the_makeup_says_it_at_once() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let mut makeup = as_answered(&Farmstead::planter_body(&grower)["makeup"]);
    let said = json!({"grower": "G-1", "name": "The eight", "makeup": makeup});
    put(&app, "planters/P-1", &said).await.assert_status(201);
    makeup["unit"]["cleaner"] = json!("none");
    let said = json!({"grower": "G-1", "name": "The eight", "makeup": makeup});
    let changed = put(&app, "planters/P-1", &said).await.assert_status(200).json();
    assert_eq!((&changed["outcome"], &changed["planter"]["makeup"]), (&json!("changed"), &makeup));
    makeup["rows"] = json!(65);
    let said = json!({"grower": "G-1", "name": "The eight", "makeup": makeup});
    put(&app, "planters/P-1", &said)
        .await
        .assert_problem(422, "invalid_request")
        .assert_member("/makeup/rows");
}
