//! Digs that are older than the settings they were sent to: nobody had set the planter by them.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{digs, issued, notices, revised, stored};

/// A dig at this time with these settings; the sheet is issued at 12:00.
fn dug(time: &str, settings: &Value) -> Value {
    let mut body = Farmstead::dig_body();
    body["dug_at"] = json!(format!("2027-04-20T{time}Z"));
    body["settings"] = settings.clone();
    body
}

/// All that a grower can say about what was set.
fn whole() -> Value {
    json!({
        "pressure": {"value": 30, "unit": "[psi]"}, "speed": {"value": 5, "unit": "[mi_i]/h"},
        "lever_depth": {"value": 2, "unit": "[in_i]"}
    })
}

#[tokio::test]
async fn a_clock_that_is_a_little_off_is_no_matter() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    for (time, early) in [("11:44:59", true), ("11:45:00", false), ("11:59:59", false)] {
        let dig = app.grower.post(&digs(&stead), &dug(time, &whole())).await;
        let dig = dig.assert_status(201).json();
        assert_eq!(notices(&dig).contains(&"dug_before_issue"), early, "{time}");
    }
}

#[tokio::test]
async fn settings_that_were_reported_are_judged_and_changed() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let early = app.grower.post(&digs(&stead), &dug("08:00:00", &whole())).await;
    let early = early.assert_status(201).json();
    assert_eq!(notices(&early), ["dug_before_issue"]);
    let words = early["notices"][0]["words"].as_str().expect("words");
    assert!(
        words.starts_with("This was dug 4 hours before these settings were issued."),
        "{words}"
    );
    assert!(early["notices"][0].get("recommendation_id").is_none(), "none counted then");
    let change = &early["proposal"]["change"];
    assert_eq!(change["kind"], "down_force");
    assert_eq!(change["from"], json!({"value": 220.0, "unit": "[lbf_av]"}), "30 psi as reported");
    assert!(early["adjustment_id"].is_string());
    assert_eq!(stored(&app).await, (1, 1));
}

#[tokio::test]
async fn no_change_of_what_nobody_reported_is_proposed() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let dig = app.grower.post(&digs(&stead), &dug("08:00:00", &json!({}))).await;
    let dig = dig.assert_status(201).json();
    assert_eq!(notices(&dig), ["dug_before_issue", "settings_not_reported"]);
    let words = dig["notices"][1]["words"].as_str().expect("words");
    assert!(words.contains("down force, depth of the lever, speed"), "{words}");
    assert_eq!(dig["findings"][0]["cause"], "too_little_force", "it is judged all the same");
    assert_eq!(dig["proposal"]["change"]["kind"], "dig_more");
    assert_eq!(dig["proposal"]["change"]["rows"], json!(0));
    let said = dig["proposal"]["words"].as_str().expect("words");
    assert!(said.contains("the down force that is set"), "{said}");
    for absent in ["adjustment_id", "resistance"] {
        assert!(dig.get(absent).is_none(), "{absent}: {dig}");
    }
    assert_eq!(dig["observation"]["rows"].as_array().map(Vec::len), Some(4), "kept");
    assert_eq!(stored(&app).await, (1, 0));

    // The same dig on time asks for more force, from what was advised.
    let dig = app.grower.post(&digs(&stead), &dug("12:10:00", &json!({}))).await;
    let dig = dig.assert_status(201).json();
    assert_eq!(dig["notices"], json!([]));
    assert_eq!(dig["proposal"]["change"]["kind"], "down_force");
    assert!(dig["adjustment_id"].is_string());
}

#[tokio::test]
async fn each_setting_speaks_for_itself() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut without_lever = whole();
    without_lever.as_object_mut().expect("members").remove("lever_depth");
    let dig = app.grower.post(&digs(&stead), &dug("08:00:00", &without_lever)).await;
    let dig = dig.assert_status(201).json();
    assert_eq!(notices(&dig), ["dug_before_issue", "settings_not_reported"]);
    assert_eq!(dig["proposal"]["change"]["kind"], "down_force", "the pressure was reported");
    assert!(dig["adjustment_id"].is_string());
    // What is no setting is proposed whatever was set.
    let row = |number: u16| json!({"row": number, "bottom": "w", "seed_depths": {"unit": "[in_i]", "values": [2.0, 2.0]}});
    let ridged = json!({"dug_at": "2027-04-20T08:30:00Z", "rows": [row(2), row(3), row(5)]});
    let dig = app.grower.post(&digs(&stead), &ridged).await.assert_status(201).json();
    assert_eq!(dig["proposal"]["change"]["kind"], "inspect", "{dig:#}");
    assert!(dig["adjustment_id"].is_string());
}

#[tokio::test]
async fn the_revision_that_counted_then_is_named() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    app.clock.advance(TimeDelta::hours(3));
    let next = revised(&app, &stead).await;
    let dig = app.grower.post(&digs(&next), &dug("13:30:00", &whole())).await;
    let dig = dig.assert_status(201).json();
    assert_eq!(notices(&dig), ["dug_before_issue"]);
    let words = dig["notices"][0]["words"].as_str().expect("words");
    assert!(words.starts_with("This was dug 90 minutes before"), "{words}");
    assert_eq!(dig["notices"][0]["recommendation_id"], stead.recommendation.as_str());
}
