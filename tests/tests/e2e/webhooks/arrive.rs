//! What a receiver gets.

use serde_json::json;
use tests::{Farmstead, NOON, TestApp};

use super::{Hook, Receiver, change, pump};

#[tokio::test]
async fn a_change_is_told_once_signed_and_without_a_name() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    change(&app, "Before the webhook").await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    let grower = change(&app, "Walnut Grove").await;
    pump(&app).await;
    pump(&app).await;
    let notices = receiver.take();
    assert_eq!(notices.len(), 1, "{notices:?}");
    let notice = &notices[0];
    assert!(notice.is_signed_with(&hook.secret));
    assert_eq!(notice.signatures.len(), 1);
    assert_eq!(notice.content_type, "application/json");
    assert!(notice.user_agent.starts_with("dibble/"));
    let noon: chrono::DateTime<chrono::Utc> = NOON.parse().expect("time");
    assert_eq!(notice.timestamp, noon.timestamp());
    assert!(!notice.id.contains('.') && notice.body.len() < 20_000);
    let body = notice.json();
    assert_eq!(body["type"], "grower.created");
    assert_eq!(body["timestamp"], NOON);
    assert_eq!(body["data"]["id"], grower.as_str());
    assert_eq!(
        body["data"]["href"],
        format!("http://127.0.0.1:8180/v1/growers/{grower}"),
        "where it is read"
    );
    assert_eq!(body.as_object().expect("members").len(), 3);
    assert!(!String::from_utf8_lossy(&notice.body).contains("Walnut"), "ids only");
    let change = app.lead.get("/v1/changes?limit=200").await.assert_status(200).json();
    let last = change["items"].as_array().expect("items").last().expect("one").clone();
    assert_eq!(body["data"]["position"], last["position"], "the same as in the feed: {last}");

    let deliveries = hook.deliveries(&app, "").await;
    assert_eq!(deliveries.len(), 1);
    let delivery = &deliveries[0];
    assert_eq!(delivery["message_id"], notice.id.as_str());
    assert_eq!(delivery["status"], "delivered");
    assert_eq!((&delivery["attempts"], &delivery["last_status"]), (&json!(1), &json!(204)));
    assert_eq!(delivery["type"], "grower.created");
    assert_eq!(delivery["object_id"], grower.as_str());
    assert_eq!(delivery.get("next_try_at"), None);
}

#[tokio::test]
async fn only_the_types_that_are_wanted_are_told() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let types = json!({"types": ["settings_sheet.published", "dig_check.recorded"]});
    let hook = Hook::make(&app, &receiver.url, types).await;
    let stead = Farmstead::make(&app.lead, "Walnut Grove").await;
    stead.issue(&app.lead).await;
    stead.with_dig(&app.lead).await;
    pump(&app).await;
    let told: Vec<String> = receiver
        .take()
        .iter()
        .map(|it| it.json()["type"].as_str().expect("a type").to_owned())
        .collect();
    assert!(told.contains(&"settings_sheet.published".to_owned()), "{told:?}");
    assert!(told.contains(&"dig_check.recorded".to_owned()), "{told:?}");
    assert_eq!(told.len(), 2, "{told:?}");
    assert_eq!(hook.deliveries(&app, "").await.len(), 2);
    let last = app.lead.get("/v1/changes?limit=200").await.json();
    let last = last["items"].as_array().expect("items").last().expect("one")["position"].clone();
    assert_eq!(hook.read(&app).await["read_to"], last, "the others are read too");
}

#[tokio::test]
async fn a_cloud_event_has_what_the_standard_asks_for() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({"form": "cloud_event"})).await;
    let grower = change(&app, "Walnut Grove").await;
    pump(&app).await;
    let notice = receiver.take().remove(0);
    assert!(notice.is_signed_with(&hook.secret));
    assert_eq!(notice.content_type, "application/cloudevents+json");
    let event = notice.json();
    assert_eq!(event["specversion"], "1.0");
    assert_eq!(event["id"], notice.id.as_str());
    assert_eq!(event["source"], "http://127.0.0.1:8180/v1/changes");
    assert_eq!(event["type"], "grower.created");
    assert_eq!(event["subject"], grower.as_str());
    assert_eq!(event["time"], NOON);
    assert_eq!(event["datacontenttype"], "application/json");
    assert_eq!(event["data"]["id"], grower.as_str());
    let lower = |name: &String| name.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit());
    assert!(event.as_object().expect("members").keys().all(lower), "{event}");
}

#[tokio::test]
async fn a_webhook_can_begin_with_all_that_ever_changed() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let grower = change(&app, "Walnut Grove").await;
    Hook::make(&app, &receiver.url, json!({"after": 0, "ordered": true})).await;
    pump(&app).await;
    let told = receiver.take();
    let positions: Vec<i64> =
        told.iter().map(|it| it.json()["data"]["position"].as_i64().expect("one")).collect();
    let all: Vec<i64> = (1..=i64::try_from(positions.len()).expect("few")).collect();
    assert_eq!(positions, all, "each, in order");
    assert_eq!(told.last().expect("some").json()["data"]["id"], grower.as_str());
}

#[tokio::test]
async fn a_test_notice_is_tried_once() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    let made = hook.step(&app, "test").await.assert_status(201);
    assert_eq!(made.json()["test"], true);
    let path = made.header("location").to_owned();
    pump(&app).await;
    let notice = receiver.take().remove(0);
    assert!(notice.is_signed_with(&hook.secret));
    assert_eq!(notice.json()["type"], "webhook.tested");
    let delivery = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!((&delivery["status"], &delivery["attempts"]), (&json!("delivered"), &json!(1)));
    assert_eq!(delivery["message_id"], notice.id.as_str());

    receiver.answers(|_| super::Reply::of(500));
    let made = hook.step(&app, "test").await.assert_status(201);
    let path = made.header("location").to_owned();
    pump(&app).await;
    let delivery = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!((&delivery["status"], &delivery["attempts"]), (&json!("dead"), &json!(1)));
    assert_eq!(delivery["last_status"], 500);
    hook.step(&app, "pause").await.assert_status(200);
    hook.step(&app, "test").await.assert_problem(409, "wrong_state");
}

#[tokio::test]
async fn while_a_secret_is_changed_both_sign() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    let rotate = async |hours: u16| {
        let path = format!("{}/rotation", hook.path());
        let answer = app.lead.post(&path, &json!({"overlap_hours": hours})).await;
        answer.assert_status(200).json()
    };
    let rotated = rotate(24).await;
    let second = rotated["secret"].as_str().expect("a secret").to_owned();
    assert_ne!(second, hook.secret);
    assert_eq!(rotated["old_secret_until"], "2027-04-21T12:00:00Z");
    assert_eq!(hook.read(&app).await["old_secret_until"], "2027-04-21T12:00:00Z");
    change(&app, "One").await;
    pump(&app).await;
    let notice = receiver.take().remove(0);
    assert_eq!(notice.signatures.len(), 2);
    assert!(notice.is_signed_with(&second) && notice.is_signed_with(&hook.secret));

    app.clock.advance(chrono::TimeDelta::hours(24));
    let lead = app.signed_in_now(&app.lead, api::auth::role::Role::Lead);
    lead.create("/v1/growers", &json!({"name": "Two"})).await;
    pump(&app).await;
    let notice = receiver.take().remove(0);
    assert_eq!(notice.signatures.len(), 1);
    assert!(notice.is_signed_with(&second) && !notice.is_signed_with(&hook.secret));

    // Somebody learned it: it ends at once.
    let path = format!("{}/rotation", hook.path());
    let third = lead.post(&path, &json!({"overlap_hours": 0})).await.assert_status(200).json();
    assert_eq!(third.get("old_secret_until"), None);
    lead.create("/v1/growers", &json!({"name": "Three"})).await;
    pump(&app).await;
    let notice = receiver.take().remove(0);
    assert!(notice.is_signed_with(third["secret"].as_str().expect("a secret")));
    assert!(!notice.is_signed_with(&second) && notice.signatures.len() == 1);
    lead.post(&path, &json!({"overlap_hours": 169}))
        .await
        .assert_problem(422, "invalid_request")
        .assert_member("/overlap_hours");
}
