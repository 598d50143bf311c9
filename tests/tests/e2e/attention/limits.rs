//! When something needs somebody is the practice's to say.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::of_kind;

#[tokio::test]
async fn limits_ship_with_ours_and_are_changed_by_the_lead() {
    let app = TestApp::start().await;
    let path = "/v1/attention-limits";
    let ours = app.grower.get(path).await.assert_status(200);
    assert_eq!((ours.header("etag"), ours.json()["own"].as_bool()), ("\"0\"", Some(false)));
    let change = json!({"sheet_unseen_hours": 2});
    app.advisor.patch(path, "*", &change).await.assert_problem(403, "forbidden");
    app.lead.patch(path, "\"3\"", &change).await.assert_problem(412, "stale");
    app.lead
        .send("PATCH", path, &[], Some(&change))
        .await
        .assert_problem(428, "precondition_required");
    let changed = app.lead.patch(path, "\"0\"", &change).await.assert_status(200);
    assert_eq!((changed.header("etag"), changed.json()["own"].as_bool()), ("\"1\"", Some(true)));
    assert_eq!(changed.json()["dig_after_seen_days"], ours.json()["dig_after_seen_days"]);
    app.lead.patch(path, "\"0\"", &change).await.assert_problem(412, "stale");
    app.lead.patch(path, "\"1\"", &json!({"planting_begins": "05-01"})).await.assert_status(200);
    assert_eq!(app.stranger.get(path).await.json()["version"], 0, "each practice has its own");

    let stead = Farmstead::make(&app.lead, "Quick").await;
    stead.issue(&app.lead).await;
    app.clock.set("2027-04-20T13:59:59Z".parse().expect("a time"));
    assert!(of_kind(&app.lead, "sheet_unseen").await.is_empty());
    app.clock.set("2027-04-20T14:00:00Z".parse().expect("a time"));
    assert_eq!(of_kind(&app.lead, "sheet_unseen").await.len(), 1);
}

#[tokio::test]
async fn numbers_out_of_range_are_named_all_at_once() {
    let app = TestApp::start().await;
    let bad = json!({"sheet_unseen_hours": 0, "conditions_days": 61, "calibration_months": 121,
        "planting_begins": "02-29"});
    let refused = app.lead.patch("/v1/attention-limits", "*", &bad).await;
    let refused = refused.assert_problem(422, "invalid_request");
    for member in
        ["/sheet_unseen_hours", "/conditions_days", "/calibration_months", "/planting_begins"]
    {
        refused.assert_member(member);
    }
}
