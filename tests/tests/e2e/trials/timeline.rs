//! A trial in the timeline of its field.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::{id, on_rows};

async fn entries(user: &User, stead: &Farmstead) -> Vec<Value> {
    let path = format!("/v1/fields/{}/timeline", stead.field);
    let page = user.get(&path).await.assert_status(200).json();
    let items = page["items"].as_array().expect("items").iter();
    let of_trials = items.filter(|it| it["kind"].as_str().expect("a kind").starts_with("trial_"));
    of_trials.cloned().collect()
}

#[tokio::test]
async fn a_trial_stands_in_the_timeline_once_it_was_started() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let made = app.lead.post("/v1/trials", &on_rows(&stead)).await.assert_status(201).json();
    assert_eq!(entries(&app.lead, &stead).await, [] as [Value; 0], "a draft has not happened");

    let path = format!("/v1/trials/{}", id(&made));
    let any = [("if-match", "*")];
    app.lead.send("POST", &format!("{path}/start"), &any, None).await.assert_status(200);
    app.clock.advance(TimeDelta::minutes(10));
    app.advisor.send("POST", &format!("{path}/close"), &any, None).await.assert_status(200);

    let seen = entries(&app.grower, &stead).await;
    let told: Vec<_> =
        seen.iter().map(|it| json!([it["kind"], it["title"], it["by_name"]])).collect();
    assert_eq!(
        told,
        [
            json!(["trial_started", "Trial started", "lead"]),
            json!(["trial_closed", "Trial closed", "advisor"])
        ]
    );
    for entry in &seen {
        assert_eq!(entry["id"], made["id"]);
        let says =
            "Spiked wheels on two rows: smooth wheels against spiked wheels, 10 plots in 5 blocks.";
        assert_eq!(entry["summary"], says);
    }
    let trial = app.lead.get(&path).await.json();
    assert_eq!((&seen[0]["at"], &seen[1]["at"]), (&trial["started_at"], &trial["closed_at"]));
}
