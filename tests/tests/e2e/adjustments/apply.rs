//! What an accepted change makes of the next revision.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{decide, dig_with, dug, path, sheet};

#[tokio::test]
async fn the_loop_from_a_draft_to_the_next_revision() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let before = sheet(&app, &json!(stead.recommendation)).await;
    let read = app.advisor.get(&path(&stead.adjustment)).await.assert_status(200);
    let proposed = read.json();
    assert_eq!(proposed["status"], "proposed");
    assert_eq!(proposed["dig_check_id"], stead.dig_check.as_str());
    let dig = format!("/v1/dig-checks/{}", stead.dig_check);
    assert_eq!(proposed["proposal"], app.advisor.get(&dig).await.json()["proposal"]);

    let etag = read.header("etag");
    let accepted = decide(&app.advisor, &stead.adjustment, "accept", etag, None).await;
    let accepted = accepted.assert_status(200).json();
    assert_eq!((&accepted["status"], &accepted["version"]), (&json!("accepted"), &json!(2)));
    assert_eq!(accepted["decided_by"], app.advisor.account_id.as_str());
    let next = sheet(&app, &accepted["next_recommendation_id"]).await;
    assert_eq!((&next["status"], &next["revision"]), (&json!("draft"), &json!(2)));
    assert_eq!(next["replaces_id"], stead.recommendation.as_str());
    for same in ["series_id", "field_id", "planter_id", "conditions_id", "calibration_id"] {
        assert_eq!(next[same], before[same], "{same}");
    }
    let to = &proposed["proposal"]["change"]["to"];
    let set = &next["settings"]["down_force"];
    assert_eq!(&set["per_row"], to, "the change is on the sheet");
    assert_eq!(set["set_on_planter"], proposed["proposal"]["change"]["set_on_planter"]);
    for same in ["depth", "speed", "closing", "coulter", "row_cleaner"] {
        assert_eq!(next["settings"][same]["value"], before["settings"][same]["value"], "{same}");
    }
    assert_eq!(sheet(&app, &json!(stead.recommendation)).await, before, "it counts until then");

    // Issued, dug, found right: the loop ends.
    let next = Farmstead {
        recommendation: accepted["next_recommendation_id"].as_str().expect("id").to_owned(),
        ..stead
    };
    next.issue(&app.lead).await;
    let good = json!({
        "seed_depths": {"unit": "[in_i]", "values": [2.0, 1.95, 2.05]}, "gauge_wheels": "turn_with_effort"
    });
    let judged = dig_with(&app, &next, &good).await;
    assert_eq!(judged["proposal"]["change"]["kind"], "keep_as_is");
}

#[tokio::test]
async fn accepted_and_issued_at_once() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let body = json!({"issue": true});
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "\"1\"", Some(body)).await;
    let accepted = accepted.assert_status(200).json();
    let next = accepted["next_recommendation_id"].as_str().expect("id");
    let next = app.grower.get(&format!("/v1/recommendations/{next}")).await;
    assert_eq!(next.assert_status(200).json()["status"], "issued");
    assert_eq!(sheet(&app, &json!(stead.recommendation)).await["status"], "superseded");
}

#[tokio::test]
async fn the_advisor_may_want_it_otherwise() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let bad = json!({"goals": {"speed": {"value": 99, "unit": "[mi_i]/h"}}});
    let answer = decide(&app.lead, &stead.adjustment, "accept", "*", Some(bad)).await;
    answer.assert_problem(422, "invalid_request").assert_member("/goals/speed");
    let body = json!({"goals": {
        "down_force": {"value": 240, "unit": "[lbf_av]"},
        "instructions": ["Dig again after two rounds."]
    }});
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "*", Some(body)).await;
    let next = sheet(&app, &accepted.assert_status(200).json()["next_recommendation_id"]).await;
    // 33 psi gives 240 lbf on this calibration.
    assert_eq!(
        next["settings"]["down_force"]["per_row"],
        json!({"value": 240.0, "unit": "[lbf_av]"})
    );
    assert_eq!(next["goals"]["down_force"], json!({"value": 240.0, "unit": "[lbf_av]"}));
    assert_eq!(next["goals"]["depth"], json!({"value": 2.0, "unit": "[in_i]"}), "as before");
    assert_eq!(next["instructions"], json!(["Dig again after two rounds."]));
}

#[tokio::test]
async fn what_the_engine_can_not_set_becomes_an_instruction() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let ridged = json!({"seed_depths": {"unit": "[in_i]", "values": [2.0, 2.0]}, "bottom": "w"});
    let dig = dig_with(&app, &stead, &ridged).await;
    assert_eq!(dig["proposal"]["change"]["kind"], "inspect");
    let id = dig["adjustment_id"].as_str().expect("an adjustment");
    let full = json!({"goals": {"instructions": ["1", "2", "3", "4", "5"]}});
    let answer = decide(&app.lead, id, "accept", "*", Some(full)).await;
    answer.assert_problem(422, "invalid_request").assert_member("/goals/instructions");
    let four = json!({"issue": true, "goals": {"instructions": ["1", "2", "3", "4"]}});
    let accepted = decide(&app.lead, id, "accept", "*", Some(four)).await.assert_status(200);
    let next = sheet(&app, &accepted.json()["next_recommendation_id"]).await;
    let lines = next["instructions"].as_array().expect("lines");
    assert_eq!(lines.len(), 5);
    assert!(
        lines[4].as_str().expect("a line").starts_with("Look first at touch of the opener discs")
    );

    // Looked at, dug again: the line is done and leaves with the next change.
    let recommendation = next["id"].as_str().expect("id").to_owned();
    let stead = Farmstead { recommendation, ..stead }.with_dig(&app.grower).await;
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    let last = sheet(&app, &accepted.assert_status(200).json()["next_recommendation_id"]).await;
    assert_eq!(last["instructions"], json!(["1", "2", "3", "4"]));
}

#[tokio::test]
async fn a_lever_that_is_off_is_moved_and_the_depth_stays() {
    let app = TestApp::start().await;
    let mut stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut planter = Farmstead::planter_body(&stead.grower);
    planter["name"] = json!("With a lever");
    planter["makeup"]["unit"]["opener"]["measured"] = json!({"value": 15, "unit": "[in_i]"});
    planter["makeup"]["depth_lever"] = json!({
        "first": {"value": 0.5, "unit": "[in_i]"}, "step": {"value": 0.25, "unit": "[in_i]"}, "notches": 14
    });
    stead.planter = app.lead.create("/v1/planters", &planter).await;
    let stead = stead.with_sheet(&app.lead).await;
    let before = sheet(&app, &json!(stead.recommendation)).await;
    assert_eq!(before["settings"]["depth"]["lever"]["notch"], json!(7), "2 in is notch 7");
    let shallow = json!({
        "seed_depths": {"unit": "[in_i]", "values": [1.5, 1.45, 1.55]}, "gauge_wheels": "turn_with_effort"
    });
    let dig = dig_with(&app, &stead, &shallow).await;
    let change = &dig["proposal"]["change"];
    assert_eq!((&change["kind"], &change["notch"]), (&json!("depth"), &json!(9)), "{dig:#}");
    let id = dig["adjustment_id"].as_str().expect("an adjustment");
    let issue = Some(json!({"issue": true}));
    let accepted = decide(&app.lead, id, "accept", "*", issue).await.assert_status(200).json();
    let next = sheet(&app, &accepted["next_recommendation_id"]).await;
    let depth = &next["settings"]["depth"];
    assert_eq!(depth["value"], before["settings"]["depth"]["value"], "2 in are wanted still");
    assert_eq!(depth["lever_depth"], json!({"value": 2.5, "unit": "[in_i]"}));
    assert_eq!(depth["lever"]["notch"], json!(9));

    let recommendation = next["id"].as_str().expect("id").to_owned();
    let right = json!({
        "seed_depths": {"unit": "[in_i]", "values": [2.0, 1.95, 2.05]}, "gauge_wheels": "turn_with_effort"
    });
    let judged = dig_with(&app, &Farmstead { recommendation, ..stead }, &right).await;
    assert_eq!(judged["depth"]["target"], json!({"value": 2.0, "unit": "[in_i]"}));
    assert_eq!(judged["proposal"]["change"]["kind"], "keep_as_is", "held against 2 in");
}

#[tokio::test]
async fn the_units_of_the_advisor_make_the_same_revision() {
    let mut worked = Vec::new();
    for units in ["us", "si"] {
        // A practice for each: the dig of one would teach the other.
        let app = TestApp::start().await;
        let grower = app.lead.create("/v1/growers", &json!({"name": units})).await;
        let stead = Farmstead::of_grower(&app.lead, &grower).await;
        let stead = stead.with_sheet(&app.lead).await.with_dig(&app.lead).await;
        let accept = format!("{}/accept?units={units}", path(&stead.adjustment));
        let accepted = app.lead.send("POST", &accept, &[("if-match", "*")], None).await;
        let accepted = accepted.assert_status(200);
        assert_eq!(accepted.header("etag"), format!("\"2.{units}\""));
        worked.push(sheet(&app, &accepted.json()["next_recommendation_id"]).await);
    }
    assert_eq!(
        worked[0]["settings"]["down_force"]["per_row"],
        worked[1]["settings"]["down_force"]["per_row"]
    );
    assert_eq!(
        worked[0]["settings"]["down_force"]["set_on_planter"],
        worked[1]["settings"]["down_force"]["set_on_planter"]
    );
    assert_eq!(worked[0]["goals"]["down_force"]["unit"], "[lbf_av]");
    assert_eq!(worked[1]["goals"]["down_force"]["unit"], "N");
}
