//! Setting a password by a one-time link, and changing one's own.

use api::entities::password_links;
use chrono::TimeDelta;
use sea_orm::EntityTrait;
use serde_json::{Value, json};
use tests::{Answer, TestApp};
use tokio::task::JoinSet;

use crate::sessions::{refresh, sign_in, user};

async fn link(app: &TestApp, account_id: &str) -> Value {
    let path = format!("/v1/accounts/{account_id}/password-links");
    let answer = app.lead.send("POST", &path, &[], None).await.assert_status(201);
    assert_eq!(answer.header("cache-control"), "no-store");
    answer.json()
}

async fn redeem(app: &TestApp, link: &Value, password: &str) -> Answer {
    let body = json!({"token": link["token"], "new_password": password});
    app.nobody.post("/v1/password-links/redeem", &body).await
}

async fn signs_in(app: &TestApp, name: &str, password: &str) -> bool {
    let body = json!({"email": format!("{name}@example.org"), "password": password});
    app.nobody.post("/v1/sessions", &body).await.status == 201
}

#[tokio::test]
async fn a_new_person_sets_the_password_by_a_link_that_works_once() {
    let app = TestApp::start().await;
    let body = json!({"email": "ben@example.org", "display_name": "Ben", "role": "advisor"});
    let id = app.lead.create("/v1/accounts", &body).await;
    let link = link(&app, &id).await;
    assert_eq!(
        (&link["account_id"], &link["expires_at"]),
        (&json!(id), &json!("2027-04-27T12:00:00Z"))
    );
    let short = redeem(&app, &link, "short").await;
    short.assert_problem(422, "invalid_request").assert_member("/new_password");
    redeem(&app, &link, "a password of Ben's").await.assert_status(204);
    assert!(signs_in(&app, "ben", "a password of Ben's").await);
    redeem(&app, &link, "another password").await.assert_problem(410, "link_gone");
    assert!(!signs_in(&app, "ben", "another password").await);
    let account = app.lead.get(&format!("/v1/accounts/{id}")).await.json();
    assert_eq!(account["has_password"], true);
}

#[tokio::test]
async fn whoever_forgot_his_password_gets_a_new_one_and_old_sessions_end() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "advisor").await;
    let link = link(&app, &app.advisor.account_id).await;
    user(&app, &session).get("/v1/growers").await.assert_status(200);
    redeem(&app, &link, "a password anew").await.assert_status(204);
    user(&app, &session).get("/v1/growers").await.assert_problem(401, "unauthenticated");
    refresh(&app.nobody, &session).await.assert_problem(401, "session_ended");
    assert!(!signs_in(&app, "advisor", "a long enough one").await);
    assert!(signs_in(&app, "advisor", "a password anew").await);
}

#[tokio::test]
async fn a_link_that_is_old_replaced_or_of_a_shut_out_account_is_gone() {
    let app = TestApp::start().await;
    let id = &app.advisor.account_id;
    let path = format!("/v1/accounts/{id}");
    let replaced = link(&app, id).await;
    let shut = link(&app, id).await;
    redeem(&app, &replaced, "a password anew").await.assert_problem(410, "link_gone");
    app.lead.patch(&path, "*", &json!({"disabled": true})).await.assert_status(200);
    redeem(&app, &shut, "a password anew").await.assert_problem(410, "link_gone");
    let none = app.lead.send("POST", &format!("{path}/password-links"), &[], None).await;
    none.assert_problem(409, "wrong_state");
    app.lead.patch(&path, "*", &json!({"disabled": false})).await.assert_status(200);
    redeem(&app, &shut, "a password anew").await.assert_problem(410, "link_gone");
    let old = link(&app, id).await;
    app.clock.advance(TimeDelta::days(7));
    redeem(&app, &old, "a password anew").await.assert_problem(410, "link_gone");
    let made_up = json!({"token": "x"});
    redeem(&app, &made_up, "a password anew").await.assert_problem(410, "link_gone");
    assert!(signs_in(&app, "advisor", "a long enough one").await);
}

#[tokio::test]
async fn a_link_used_twice_at_once_sets_one_password() {
    let app = TestApp::start_with(|settings| settings.workers = 4).await;
    let link = link(&app, &app.advisor.account_id).await;
    let kept = password_links::Entity::find().all(&app.state().db).await.expect("links");
    assert!(!format!("{kept:?}").contains(link["token"].as_str().expect("a token")));
    let mut under_way = JoinSet::new();
    for n in 0..6 {
        let (nobody, token) = (app.nobody.clone(), link["token"].clone());
        under_way.spawn(async move {
            let body = json!({"token": token, "new_password": format!("a password anew {n}")});
            nobody.post("/v1/password-links/redeem", &body).await.status
        });
    }
    let mut statuses = under_way.join_all().await;
    statuses.sort_unstable();
    assert_eq!(statuses, [204, 410, 410, 410, 410, 410]);
}

#[tokio::test]
async fn ones_own_password_is_changed_with_the_old_one_and_other_devices_are_out() {
    let app = TestApp::start().await;
    let (here, lost) = (sign_in(&app, "advisor").await, sign_in(&app, "advisor").await);
    let me = user(&app, &here);
    let change = |old: &str, new: &str| json!({"current_password": old, "new_password": new});
    let path = "/v1/accounts/me/password";
    let wrong =
        me.send("PUT", path, &[], Some(&change("not the right one", "a password anew"))).await;
    wrong.assert_problem(422, "invalid_request").assert_member("/current_password");
    let short = me.send("PUT", path, &[], Some(&change("a long enough one", "short"))).await;
    short.assert_problem(422, "invalid_request").assert_member("/new_password");
    let good = change("a long enough one", "a password anew");
    me.send("PUT", path, &[], Some(&good)).await.assert_status(204);
    me.get("/v1/growers").await.assert_status(200);
    refresh(&app.nobody, &here).await.assert_status(200);
    user(&app, &lost).get("/v1/growers").await.assert_problem(401, "unauthenticated");
    refresh(&app.nobody, &lost).await.assert_problem(401, "session_ended");
    assert!(signs_in(&app, "advisor", "a password anew").await);
    assert!(!signs_in(&app, "advisor", "a long enough one").await);
}

#[tokio::test]
async fn guessing_the_old_password_is_slow_here_too() {
    let app = TestApp::start().await;
    let wrong = json!({"current_password": "not the right one", "new_password": "a password anew"});
    let path = "/v1/accounts/me/password";
    for _ in 0..5 {
        app.advisor
            .send("PUT", path, &[], Some(&wrong))
            .await
            .assert_problem(422, "invalid_request");
    }
    let waits = app.advisor.send("PUT", path, &[], Some(&wrong)).await;
    waits.assert_problem(429, "too_many_requests");
    assert!(!signs_in(&app, "advisor", "a long enough one").await);
}
