//! What the planter was set to.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{digs, issued};

#[tokio::test]
async fn a_spring_and_a_lever_are_reported_by_their_notches() {
    let app = TestApp::start().await;
    let mut stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut planter = Farmstead::planter_body(&stead.grower);
    planter["name"] = json!("Springs");
    planter["makeup"]["down_force"] = json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 125, "unit": "[lbf_av]"}},
        {"label": "3", "force": {"value": 250, "unit": "[lbf_av]"}}
    ]});
    planter["makeup"]["depth_lever"] = json!({
        "first": {"value": 0.5, "unit": "[in_i]"}, "step": {"value": 0.25, "unit": "[in_i]"}, "notches": 14
    });
    stead.planter = app.lead.create("/v1/planters", &planter).await;
    let stead = stead.with_sheet(&app.lead).await;
    let mut body = Farmstead::dig_body();
    body["settings"] = json!({"notch": "2", "lever_notch": 7});
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    let change = &dig["proposal"]["change"];
    assert_eq!(change["from"], json!({"value": 125.0, "unit": "[lbf_av]"}));
    assert_eq!(change["to"], json!({"value": 250.0, "unit": "[lbf_av]"}), "one notch at a time");
    let assumed = dig["assumed"].to_string();
    assert!(!assumed.contains("lever") && !assumed.contains("down force in use"), "{assumed}");
    for (settings, pointer) in [
        (json!({"notch": "4"}), "/settings/notch"),
        (json!({"pressure": {"value": 30, "unit": "[psi]"}}), "/settings/pressure"),
        (json!({"lever_notch": 15}), "/settings/lever_notch"),
        (json!({"lever_notch": 0}), "/settings/lever_notch"),
        (
            json!({"lever_notch": 6, "lever_depth": {"value": 2, "unit": "[in_i]"}}),
            "/settings/lever_notch",
        ),
    ] {
        body["settings"] = settings;
        let answer = app.grower.post(&digs(&stead), &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn a_pressure_beyond_the_calibration_is_not_made_into_a_force() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut body = Farmstead::dig_body();
    body["settings"]["pressure"] = json!({"value": 75, "unit": "[psi]"});
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    let ignored = dig["ignored"].as_array().expect("list");
    assert!(ignored.iter().any(|it| it["what"] == "pressure in use"), "{ignored:?}");
    assert!(dig["assumed"].to_string().contains("down force in use: as advised"));
    assert_eq!(dig["observation"]["settings"]["pressure"]["value"], json!(75.0));
}
