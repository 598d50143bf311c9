//! Receivers that fail.

use std::sync::atomic::{AtomicBool, Ordering};

use api::app::{App, Config};
use api::auth::role::Role;
use api::config::SealingKey;
use api::notices::deliver_all_due;
use api::notices::schedule::MOST_ATTEMPTS;
use chrono::TimeDelta;
use serde_json::json;
use tests::TestApp;

use super::{Hook, Receiver, Reply, change, pump};

/// The waits of Standard Webhooks, in seconds.
const WAITS: [i64; 9] = [5, 300, 1800, 7200, 18_000, 36_000, 50_400, 72_000, 86_400];

#[tokio::test]
async fn what_fails_is_tried_by_the_schedule_and_then_it_is_dead() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    receiver.answers(|_| Reply::of(500));
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "Walnut Grove").await;
    pump(&app).await;
    assert_eq!(receiver.count(), 1, "at once");
    let delivery = hook.deliveries(&app, "").await.remove(0);
    assert_eq!((&delivery["status"], &delivery["last_status"]), (&json!("waiting"), &json!(500)));
    assert_eq!(delivery["last_error"], "The receiver answers with status 500.");
    for (nth, wait) in (1..).zip(WAITS) {
        app.clock.advance(TimeDelta::seconds(wait) - TimeDelta::milliseconds(1));
        pump(&app).await;
        assert_eq!(receiver.count(), nth, "not before {wait} s");
        // The wait is up to a fifth longer, by chance.
        app.clock.advance(TimeDelta::milliseconds(wait * 200 + 1));
        pump(&app).await;
        assert_eq!(receiver.count(), nth + 1, "after {wait} s");
    }
    let notices = receiver.take();
    assert_eq!(notices.len(), usize::try_from(MOST_ATTEMPTS).expect("few"));
    assert!(notices.iter().all(|it| it.id == notices[0].id), "one message");
    assert!(notices.windows(2).all(|two| two[0].timestamp < two[1].timestamp));
    assert!(notices.iter().all(|it| it.is_signed_with(&hook.secret)));
    app.clock.advance(TimeDelta::days(10));
    pump(&app).await;
    assert_eq!(receiver.count(), 0);

    let lead = app.signed_in_now(&app.lead, Role::Lead);
    let dead = lead.get(&format!("{}/deliveries?status=dead", hook.path())).await.json();
    assert_eq!(dead["items"].as_array().expect("items").len(), 1, "{dead}");
    let webhook = lead.get(&hook.path()).await.assert_status(200).json();
    assert_eq!(webhook["status"], "stopped", "nothing got through for days: {webhook}");
    assert!(webhook["stopped_because"].as_str().expect("why").contains("three days"));
    // Changes wait until somebody resumes it; then nothing is left out.
    lead.create("/v1/growers", &json!({"name": "Later"})).await;
    pump(&app).await;
    assert_eq!(receiver.count(), 0);
    receiver.answers(|_| Reply::of(200));
    let step = async |step: &str| {
        let path = format!("{}/{step}", hook.path());
        lead.send("POST", &path, &[], None).await.assert_status(200).json()
    };
    assert_eq!(step("resume").await["status"], "active");
    pump(&app).await;
    assert_eq!(receiver.take().len(), 1, "what changed meanwhile");
    assert_eq!(step("replay-dead").await["again"], 1);
    pump(&app).await;
    let again = receiver.take();
    assert_eq!((again.len(), &again[0].id), (1, &notices[0].id));
    let webhook = lead.get(&hook.path()).await.json();
    assert_eq!(webhook.get("failing_since"), None);
}

#[tokio::test]
async fn who_asks_to_be_left_alone_is() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    receiver
        .answers(|_| Reply { headers: vec![("retry-after", "120".to_owned())], ..Reply::of(429) });
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "One").await;
    pump(&app).await;
    assert_eq!(receiver.take().len(), 1);
    assert_eq!(hook.read(&app).await["held_until"], "2027-04-20T12:02:00Z");
    change(&app, "Two").await;
    app.clock.advance(TimeDelta::seconds(119));
    pump(&app).await;
    assert_eq!(receiver.count(), 0, "the other one waits too");
    receiver.answers(|_| Reply::of(200));
    app.clock.advance(TimeDelta::seconds(1));
    pump(&app).await;
    assert_eq!(receiver.take().len(), 2);
}

#[tokio::test]
async fn who_is_gone_is_told_nothing_more() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    receiver.answers(|_| Reply::of(410));
    let hook = Hook::make(&app, &receiver.url, json!({"ordered": true})).await;
    let before = hook.read(&app).await;
    change(&app, "One").await;
    change(&app, "Two").await;
    pump(&app).await;
    assert_eq!(receiver.take().len(), 1);
    let after = hook.read(&app).await;
    assert_eq!(after["status"], "stopped");
    assert!(after["stopped_because"].as_str().expect("why").contains("410"), "{after}");
    assert_ne!(after["version"], before["version"]);
    let dead = hook.deliveries(&app, "?status=dead").await;
    assert_eq!((dead.len(), &dead[0]["attempts"]), (1, &json!(1)));
    let list = "/v1/attention?kind=notices_failed";
    let entry = app.lead.get(list).await.assert_status(200).json()["items"][0].clone();
    assert_eq!(entry["object_path"], hook.path(), "{entry}");
    assert!(entry["reason"].as_str().expect("why").contains("410"), "{entry}");
    let seen = app.advisor.get(list).await.assert_status(200).json();
    assert_eq!(seen["items"], json!([]), "it is not his to see to");
    let seen = app.records_system.get(list).await.assert_status(200).json();
    assert_eq!(seen["items"], json!([]), "nor is it of a records system that did not make it");
    app.clock.advance(TimeDelta::days(1));
    pump(&app).await;
    assert_eq!(receiver.count(), 0);
}

#[tokio::test]
async fn a_records_system_learns_that_its_own_webhook_is_stopped() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    receiver.answers(|_| Reply::of(410));
    let hook = Hook::by(&app.records_system, &receiver.url, json!({})).await;
    change(&app, "One").await;
    pump(&app).await;
    let list = "/v1/attention?kind=notices_failed";
    for user in [&app.lead, &app.records_system] {
        let seen = user.get(list).await.assert_status(200).json();
        assert_eq!(seen["items"][0]["object_path"], hook.path(), "{seen}");
    }
    let other = app.someone("other", Role::RecordsSystem, None).await;
    assert_eq!(other.get(list).await.json()["items"], json!([]));
}

#[tokio::test]
async fn a_redirect_is_a_failure_and_is_not_followed() {
    let app = TestApp::start().await;
    let (receiver, other) = (Receiver::start().await, Receiver::start().await);
    let to = other.url.clone();
    receiver.answers(move |_| Reply { headers: vec![("location", to.clone())], ..Reply::of(307) });
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "One").await;
    pump(&app).await;
    assert_eq!((receiver.count(), other.count()), (1, 0));
    let delivery = hook.deliveries(&app, "").await.remove(0);
    assert_eq!((&delivery["status"], &delivery["last_status"]), (&json!("waiting"), &json!(307)));
    assert!(delivery["last_error"].as_str().expect("why").contains("redirect"));
}

/// The operator takes a network back, or the name of an address leads there one day: it is checked when it is sent.
#[tokio::test]
async fn a_private_address_is_refused_when_it_is_sent_too() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    change(&app, "One").await;
    let mut settings = app.state().settings.clone();
    settings.outgoing.allow.clear();
    let strict = App::build(Config::with_clock(settings, app.clock.clone())).await.expect("starts");
    deliver_all_due(&strict.state).await.expect("tried");
    assert_eq!(receiver.count(), 0);
    let delivery = hook.deliveries(&app, "").await.remove(0);
    assert_eq!((&delivery["status"], &delivery["attempts"]), (&json!("waiting"), &json!(1)));
    let why = delivery["last_error"].as_str().expect("why");
    assert!(why.contains("not to the public internet") && !why.contains("127."), "{why}");
    strict.stop().await.expect("a good end");
}

#[tokio::test]
async fn who_is_down_is_not_asked_for_each_of_many() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    receiver.answers(|_| Reply::of(503));
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    for n in 0..40 {
        change(&app, &format!("Grower {n}")).await;
    }
    pump(&app).await;
    let tried = receiver.take().len();
    assert!((1..=16).contains(&tried), "{tried}");
    let waiting = hook.deliveries(&app, "?status=waiting&limit=200").await;
    let untouched = waiting.iter().filter(|it| it["attempts"] == 0).count();
    assert_eq!((waiting.len(), untouched), (40, 40 - tried), "the others lose no try");
    receiver.answers(|_| Reply::of(200));
    app.clock.advance(TimeDelta::seconds(6));
    pump(&app).await;
    assert_eq!(receiver.take().len(), 40);
}

#[tokio::test]
async fn one_that_fails_holds_up_no_other_of_its_webhook() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let bad = change(&app, "Bad").await;
    let hook = Hook::make(&app, &receiver.url, json!({"after": 0})).await;
    for n in 0..20 {
        change(&app, &format!("Grower {n}")).await;
    }
    let spoilt = bad.clone();
    receiver.answers(move |it| {
        Reply::of(if it.json()["data"]["id"] == spoilt.as_str() { 500 } else { 200 })
    });
    pump(&app).await;
    let waiting = hook.deliveries(&app, "?status=waiting").await;
    assert_eq!((waiting.len(), &waiting[0]["object_id"]), (1, &json!(bad)));
}

#[tokio::test]
async fn who_asks_one_of_many_to_wait_is_left_alone_by_all() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    for n in 0..40 {
        change(&app, &format!("Grower {n}")).await;
    }
    // The first is told to wait, the others are taken.
    let is_first = AtomicBool::new(true);
    receiver.answers(move |_| {
        if is_first.swap(false, Ordering::SeqCst) {
            Reply { headers: vec![("retry-after", "60".to_owned())], ..Reply::of(429) }
        } else {
            Reply::of(204)
        }
    });
    pump(&app).await;
    let at_first = receiver.take().len();
    assert!((1..=16).contains(&at_first), "no more are begun: {at_first}");
    app.clock.advance(TimeDelta::seconds(59));
    pump(&app).await;
    assert_eq!(receiver.count(), 0);
    app.clock.advance(TimeDelta::seconds(600));
    pump(&app).await;
    assert_eq!(receiver.take().len(), 40 - at_first + 1, "and nothing is lost");
    assert_eq!(hook.deliveries(&app, "?status=delivered&limit=200").await.len(), 40);
}

/// The operator took away the key that secrets were kept under.
#[tokio::test]
async fn a_secret_that_can_not_be_opened_is_said_to_be_so_and_can_be_changed() {
    let app = TestApp::start().await;
    let receiver = Receiver::start().await;
    let hook = Hook::make(&app, &receiver.url, json!({})).await;
    let mut settings = app.state().settings.clone();
    settings.sealing_keys = vec![SealingKey::of([8; 32])];
    let other = App::build(Config::with_clock(settings, app.clock.clone())).await.expect("starts");
    change(&app, "One").await;
    deliver_all_due(&other.state).await.expect("tried");
    assert_eq!(receiver.count(), 0);
    let delivery = hook.deliveries(&app, "").await.remove(0);
    assert_eq!((&delivery["status"], &delivery["attempts"]), (&json!("waiting"), &json!(1)));
    let why = delivery["last_error"].as_str().expect("why");
    assert!(why.contains("secret") && why.contains("can't be opened"), "{why}");
    assert!(hook.read(&app).await["failing_since"].is_string());
    // Another secret, with the key that is there now; the one before can't sign beside it.
    let lead = app.lead.at(&format!("http://{}", other.address));
    let rotated = lead.post(&format!("{}/rotation", hook.path()), &json!({})).await;
    let secret = rotated.assert_status(200).json()["secret"].clone();
    app.clock.advance(TimeDelta::minutes(10));
    deliver_all_due(&other.state).await.expect("delivered");
    let notices = receiver.take();
    assert_eq!((notices.len(), notices[0].signatures.len()), (1, 1));
    assert!(notices[0].is_signed_with(secret.as_str().expect("a secret")));
    other.stop().await.expect("a good end");
}
