//! Calibrations.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn on(day: &str) -> Value {
    let mut body = Farmstead::calibration_body();
    body["calibrated_on"] = json!(day);
    body
}

#[tokio::test]
async fn the_newest_day_counts() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let path = format!("/v1/planters/{}/calibrations", stead.planter);
    let newer = app.advisor.post(&path, &on("2027-04-10")).await.assert_status(201);
    app.advisor.post(&path, &on("2026-05-01")).await.assert_status(201);
    let newest = app.grower.get(&format!("{path}/newest")).await.assert_status(200).json();
    assert_eq!(newest, newer.json());
    assert_eq!(newer.header("location"), format!("{path}/newest"));
    assert_eq!(newest["created_by"], app.advisor.account_id.as_str());
    let list = app.grower.get(&path).await.assert_status(200).json();
    let days: Vec<&Value> =
        list["items"].as_array().expect("items").iter().map(|row| &row["calibrated_on"]).collect();
    assert_eq!(days, ["2027-04-03", "2027-04-10", "2026-05-01"]);
}

#[tokio::test]
async fn what_was_measured_stays_and_the_line_follows_the_units() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let path = format!("/v1/planters/{}/calibrations/newest", stead.planter);
    let us = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(us["points"], Farmstead::calibration_body()["points"]);
    assert_eq!(us["least_force"], json!({"value": 120.0, "unit": "[lbf_av]"}));
    assert_eq!(us["most_force"], json!({"value": 420.0, "unit": "[lbf_av]"}));
    let si = app.lead.get(&format!("{path}?units=si")).await.assert_status(200).json();
    assert_eq!(si["points"], us["points"]);
    // 120 lbf and 420 lbf at 4.4482216152605 N each.
    assert_eq!(si["least_force"], json!({"value": 533.787, "unit": "N"}));
    assert_eq!(si["most_force"], json!({"value": 1868.25, "unit": "N"}));
}

#[tokio::test]
async fn points_that_make_no_line_are_refused() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let path = format!("/v1/planters/{}/calibrations", stead.planter);
    let point = |psi: f64, pounds: f64| json!({"pressure": {"value": psi, "unit": "[psi]"}, "force": {"value": pounds, "unit": "[lbf_av]"}});
    for (points, pointer) in [
        (json!([]), "/points"),
        (json!([point(15.0, 120.0)]), "/points"),
        (json!([point(15.0, 120.0), point(15.0, 130.0)]), "/points"),
        (json!([point(15.0, 420.0), point(60.0, 120.0)]), "/points"),
        (json!([point(15.0, 120.0), point(9000.0, 420.0)]), "/points/1/pressure"),
        (
            json!([point(15.0, 120.0), {"pressure": {"value": 60, "unit": "[psi]"}}]),
            "/points/1/force",
        ),
    ] {
        let body = json!({"calibrated_on": "2027-04-03", "points": points});
        let answer = app.lead.post(&path, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    for day in ["2027-04-21", "1949-12-31", "-4800-01-01", "2027-02-30", "soon"] {
        let answer = app.lead.post(&path, &on(day)).await;
        answer.assert_problem(422, "invalid_request").assert_member("/calibrated_on");
    }
}

#[tokio::test]
async fn springs_have_no_pressure_to_calibrate() {
    let app = TestApp::start().await;
    let mut body = Farmstead::planter_body(&app.own_grower_id);
    body["makeup"]["down_force"] = json!({"kind": "weight_only"});
    let planter = app.lead.create("/v1/planters", &body).await;
    let path = format!("/v1/planters/{planter}/calibrations");
    app.lead.post(&path, &on("2027-04-03")).await.assert_problem(409, "wrong_state");
    app.lead.get(&format!("{path}/newest")).await.assert_problem(404, "not_found");
}
