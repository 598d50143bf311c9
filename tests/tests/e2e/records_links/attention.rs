//! Links over which nothing comes any more stand on the attention list.

use actix_web::HttpResponse;
use api::auth::role::Role;
use api::exchange::pull::runs::work_off;
use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{TestApp, User};

use super::Link;
use super::land::{Land, link_to, system_of};

const LIST: &str = "/v1/attention?kind=records_link_failed";

async fn entries(user: &User) -> Vec<Value> {
    let page = user.get(LIST).await.assert_status(200).json();
    page["items"].as_array().expect("items").clone()
}

/// The account at the time it is now.
fn now(app: &TestApp, user: &User, role: Role) -> User {
    app.again(user, role)
}

/// Lets the time of the next scheduled run come, and has it done.
async fn a_day_later(app: &TestApp) {
    app.clock.advance(TimeDelta::hours(24));
    assert_eq!(work_off(app.state()).await.expect("worked off"), 1);
}

#[tokio::test]
async fn a_bad_hour_passes_and_a_second_one_does_not() {
    let app = TestApp::start().await;
    let land = Land::with(2);
    let (system, _) = system_of(land.clone()).await;
    let mut body = link_to(&system);
    body["run_every_hours"] = json!(24);
    let link = Link::make(&app.records_system, &body).await;
    link.apply(&app).await;
    assert!(entries(&app.lead).await.is_empty());
    system.answers(|_| HttpResponse::InternalServerError().finish());
    a_day_later(&app).await;
    let lead = now(&app, &app.lead, Role::Lead);
    assert!(entries(&lead).await.is_empty(), "it is tried again tomorrow");
    a_day_later(&app).await;
    let lead = now(&app, &app.lead, Role::Lead);
    let failing = entries(&lead).await;
    assert_eq!(failing.len(), 1, "{failing:?}");
    let entry = &failing[0];
    assert_eq!(entry["key"], format!("records_link_failed.{}", link.id));
    assert_eq!(entry["object_path"], link.path());
    assert_eq!(
        (&entry["object_kind"], &entry["urgency"]),
        (&json!("records_link"), &json!("when_you_can"))
    );
    let reason = entry["reason"].as_str().expect("a reason");
    assert!(reason.starts_with("The last 2 runs of \"Land\" failed, the first on 21 April: "));
    assert!(reason.contains("500") && reason.ends_with('.'), "{reason}");
    a_day_later(&app).await;
    a_day_later(&app).await;
    let lead = now(&app, &app.lead, Role::Lead);
    assert_eq!(entries(&lead).await[0]["urgency"], "soon", "for three days");

    // Put off, it stays away while the same goes on.
    let later = json!({"until": "2027-05-20", "reason": "They mend it."});
    let snooze = format!("/v1/attention/records_link_failed.{}/snooze", link.id);
    lead.post(&snooze, &later).await.assert_status(200);
    a_day_later(&app).await;
    let lead = now(&app, &app.lead, Role::Lead);
    assert!(entries(&lead).await.is_empty());
    // It goes by itself when a run is done, and what fails afterwards is news.
    system.answers(move |asked| land.answer(asked));
    a_day_later(&app).await;
    system.answers(|_| HttpResponse::InternalServerError().finish());
    a_day_later(&app).await;
    let lead = now(&app, &app.lead, Role::Lead);
    assert!(entries(&lead).await.is_empty());
    a_day_later(&app).await;
    let lead = now(&app, &app.lead, Role::Lead);
    let reason = entries(&lead).await[0]["reason"].to_string();
    assert!(reason.contains("The last 2 runs"), "{reason}");
    system.stop().await;
}

#[tokio::test]
async fn a_key_that_is_refused_is_told_at_once_to_who_can_see_to_it() {
    let app = TestApp::start().await;
    let (system, land) = system_of(Land::with(2)).await;
    let link = Link::make(&app.records_system, &link_to(&system)).await;
    let theirs = land.lock().expect("a lock").clone();
    system.answers(|_| HttpResponse::Unauthorized().finish());
    assert_eq!(link.stopped(&app).await["code"], "sign_in_refused");
    for user in [&app.lead, &app.records_system] {
        let failing = entries(user).await;
        assert_eq!((failing.len(), &failing[0]["urgency"]), (1, &json!("soon")), "{failing:?}");
        let next = failing[0]["next_step"].as_str().expect("a step");
        assert!(next.starts_with("Enter the key or secret of the link again"), "{next}");
    }
    let other = app.someone("other", Role::RecordsSystem, None).await;
    for user in [&app.advisor, &app.grower, &app.read_only, &app.stranger, &other] {
        assert!(entries(user).await.is_empty());
    }
    // It is no grower's.
    let of_grower = format!("{LIST}&grower_id={}", app.own_grower_id);
    assert_eq!(app.lead.get(&of_grower).await.json()["items"], json!([]));
    let assign = format!("/v1/attention/records_link_failed.{}/assign", link.id);
    let to = json!({"account_id": app.advisor.account_id});
    app.lead.post(&assign, &to).await.assert_problem(422, "invalid_request");
    system.answers(move |asked| theirs.answer(asked));
    link.run(&app, json!({"mode": "preview"})).await;
    assert!(entries(&app.lead).await.is_empty(), "the key works again");
    system.answers(|_| HttpResponse::Unauthorized().finish());
    link.stopped(&app).await;
    assert_eq!(entries(&app.lead).await.len(), 1);
    app.records_system
        .send("DELETE", &link.path(), &[("if-match", "*")], None)
        .await
        .assert_status(204);
    assert!(entries(&app.lead).await.is_empty());
    system.stop().await;
}
