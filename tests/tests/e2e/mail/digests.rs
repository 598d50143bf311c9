//! The attention list by mail, at the hour that was asked for.

use api::auth::role::Role;
use chrono::TimeDelta;
use sea_orm::ConnectionTrait;
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{Receiver, address_in, app_with, assert_sound, path_of, read};

/// A grower whose dig asks for a change.
async fn waiting_change(app: &TestApp) -> Farmstead {
    let stead = Farmstead::make(&app.lead, "Digger & Daughters").await;
    stead.issue(&app.lead).await;
    stead.with_dig(&app.lead).await
}

/// Gives the grower to the advisor.
async fn advise(app: &TestApp, stead: &Farmstead) {
    let (lead, mine) =
        (app.again(&app.lead, Role::Lead), json!({"advisor_id": app.advisor.account_id}));
    lead.patch(&format!("/v1/growers/{}", stead.grower), "*", &mine).await.assert_status(200);
}

#[tokio::test]
async fn a_digest_comes_at_its_hour_once_and_to_nobody_else() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let zone = json!({"time_zone": "America/Chicago"});
    app.lead.patch("/v1/practice", "*", &zone).await.assert_status(200);
    advise(&app, &waiting_change(&app).await).await;
    let wanted = json!({"digest": "daily", "hour": 6});
    let set = app.advisor.put("/v1/accounts/me/mail", "*", &wanted).await.assert_status(200);
    assert_eq!(set.json()["next_at"], "2027-04-21T11:00:00Z", "six in Chicago");
    app.lead.put("/v1/accounts/me/mail", "*", &wanted).await.assert_status(200);
    app.clock.set("2027-04-21T10:59:59Z".parse().expect("a time"));
    tokio::time::sleep(std::time::Duration::from_millis(1500)).await;
    assert_eq!(receiver.all().len(), 0);
    app.clock.set("2027-04-21T11:00:00Z".parse().expect("a time"));
    let received = receiver.wait_for(2).await;
    for received in &received {
        let (to, other) = match received.to[0].as_str() {
            "advisor@example.org" => ("advisor@example.org", "lead@example.org"),
            _ => ("lead@example.org", "advisor@example.org"),
        };
        assert_sound(received, to);
        let raw = String::from_utf8_lossy(&received.raw);
        assert!(!raw.contains(other), "nobody learns who else gets it");
        let message = read(&received.raw);
        let text = message.body_text(0).expect("text").into_owned();
        assert!(text.contains("See to a dig: Digger & Daughters, North forty"), "{text}");
        assert!(text.contains("Accept the change or decline it"), "{text}");
        assert!(message.subject().expect("a subject").contains("Wednesday, 21 April"));
        let html = message.body_html(0).expect("HTML");
        assert!(html.contains("Digger &amp; Daughters"), "{html}");
    }
    tokio::time::sleep(std::time::Duration::from_millis(1500)).await;
    assert_eq!(receiver.all().len(), 2, "each once");
    let next = app.again(&app.advisor, Role::Advisor).get("/v1/accounts/me/mail").await.json();
    assert_eq!(next["next_at"], "2027-04-22T11:00:00Z");
}

#[tokio::test]
async fn nothing_to_tell_is_no_mail_and_a_stopped_one_stays_away() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let stead = waiting_change(&app).await;
    let wanted = json!({"digest": "daily", "hour": 6});
    app.advisor.put("/v1/accounts/me/mail", "*", &wanted).await.assert_status(200);
    app.clock.set("2027-04-21T06:00:00Z".parse().expect("a time"));
    for _ in 0..100 {
        let jobs = app.again(&app.lead, Role::Lead).get("/v1/jobs?status=done").await.json();
        if jobs["items"] != json!([]) {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    let jobs = app.again(&app.lead, Role::Lead).get("/v1/jobs").await.json();
    assert_eq!(
        (jobs["items"][0]["kind"].as_str(), jobs["items"][0]["status"].as_str()),
        (Some("digest"), Some("done"))
    );
    assert_eq!(receiver.all().len(), 0);

    advise(&app, &stead).await;
    app.clock.set("2027-04-22T06:00:00Z".parse().expect("a time"));
    let received = receiver.wait_for(1).await;
    let message = read(&received[0].raw);
    let stop = address_in(&message, "List-Unsubscribe");
    app.nobody.send("POST", path_of(&stop), &[], None).await.assert_status(200);
    assert_eq!(
        app.again(&app.advisor, Role::Advisor).get("/v1/accounts/me/mail").await.json()["digest"],
        "none"
    );
    app.clock.advance(TimeDelta::days(1));
    tokio::time::sleep(std::time::Duration::from_millis(1500)).await;
    assert_eq!(receiver.all().len(), 1);
}

#[tokio::test]
async fn hours_and_days_that_are_none_are_refused_and_so_is_who_has_no_address() {
    let app = TestApp::start().await;
    let bad = json!({"digest": "weekly", "hour": 24, "weekday": 0});
    let refused = app.advisor.put("/v1/accounts/me/mail", "*", &bad).await;
    let refused = refused.assert_problem(422, "invalid_request");
    refused.assert_member("/hour");
    refused.assert_member("/weekday");
    let link = json!({"grower_id": Farmstead::make(&app.lead, "By link").await.grower});
    let made = app.lead.post("/v1/access-links", &link).await.assert_status(201).json();
    let session =
        app.nobody.post("/v1/access-links/redeem", &json!({"token": made["token"]})).await;
    let session = session.assert_status(201).json();
    let phone = app.nobody.with_token(session["access_token"].as_str().expect("a token"));
    let wanted = json!({"digest": "daily"});
    phone.put("/v1/accounts/me/mail", "*", &wanted).await.assert_problem(409, "wrong_state");
}

#[tokio::test]
async fn a_digest_tells_what_records_systems_leave_to_people() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let (grower, _) = crate::external::upstream(&app).await;
    let spacing = json!({"value": 30, "unit": "[in_i]"});
    let planter = json!({"grower": "G-1", "name": "The eight", "rows": 8, "row_spacing": spacing});
    let put = crate::external::put(&app, "planters/P-1", &planter).await;
    put.assert_problem(409, "decision_needed");
    let mine = json!({"advisor_id": app.advisor.account_id});
    app.lead.patch(&format!("/v1/growers/{grower}"), "*", &mine).await.assert_status(200);
    let wanted = json!({"digest": "daily", "hour": 6});
    for user in [&app.lead, &app.advisor] {
        user.put("/v1/accounts/me/mail", "*", &wanted).await.assert_status(200);
    }
    app.clock.set("2027-04-21T06:00:00Z".parse().expect("a time"));
    for received in receiver.wait_for(2).await {
        let message = read(&received.raw);
        let text = message.body_text(0).expect("text").into_owned();
        assert!(text.contains("- Say what records are: Prairie Partners"), "{text}");
        assert!(text.contains("1 planter without make-up"), "{text}");
    }
}

/// Gives the stranger's practice a time zone, as a newer version might.
async fn zone_of_the_stranger(app: &TestApp, zone: &str) {
    let set = format!("UPDATE practices SET time_zone = '{zone}' WHERE name = 'Someone Else'");
    let done = app.state().db.execute_unprepared(&set).await.expect("set");
    assert_eq!(done.rows_affected(), 1);
}

#[tokio::test]
async fn a_digest_that_can_not_be_scheduled_holds_up_no_other_and_is_tried_again() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    advise(&app, &waiting_change(&app).await).await;
    let earlier = json!({"digest": "daily", "hour": 13});
    app.stranger.put("/v1/accounts/me/mail", "*", &earlier).await.assert_status(200);
    let wanted = json!({"digest": "daily", "hour": 14});
    app.advisor.put("/v1/accounts/me/mail", "*", &wanted).await.assert_status(200);
    zone_of_the_stranger(&app, "Moon/Tycho").await;
    app.clock.set("2027-04-20T14:00:00Z".parse().expect("a time"));
    let received = receiver.wait_for(1).await;
    assert_eq!(received[0].to, ["advisor@example.org"]);

    zone_of_the_stranger(&app, "UTC").await;
    let due = || async { app.stranger.get("/v1/accounts/me/mail").await.json()["next_at"].clone() };
    assert_eq!(due().await, "2027-04-20T15:00:00Z", "put off by an hour");
    app.clock.set("2027-04-20T15:00:00Z".parse().expect("a time"));
    for _ in 0..100 {
        if due().await == "2027-04-21T13:00:00Z" {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("not tried again: {}", due().await);
}
