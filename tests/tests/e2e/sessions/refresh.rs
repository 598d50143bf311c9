//! Going on with a session.

use api::entities::{refresh_tokens, sessions};
use chrono::TimeDelta;
use sea_orm::{EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::TestApp;
use tokio::task::JoinSet;

use super::{refresh, sign_in, user};

async fn tokens(app: &TestApp) -> Vec<refresh_tokens::Model> {
    refresh_tokens::Entity::find().all(&app.state().db).await.expect("tokens")
}

#[tokio::test]
async fn a_session_goes_on_with_a_new_pair_each_time() {
    let app = TestApp::start().await;
    let mut session = sign_in(&app, "advisor").await;
    for round in 1..=3 {
        app.clock.advance(TimeDelta::minutes(16));
        let expired = user(&app, &session).get("/v1/growers").await;
        expired.assert_problem(401, "unauthenticated");
        let answer = refresh(&app.nobody, &session).await.assert_status(200);
        assert_eq!(answer.header("cache-control"), "no-store");
        let next = answer.json();
        assert_eq!((&next["id"], &next["account"]), (&session["id"], &session["account"]));
        assert_eq!((&next["token_type"], &next["expires_in"]), (&json!("Bearer"), &json!(900)));
        for member in ["access_token", "refresh_token"] {
            assert_ne!(next[member], session[member], "{member} of round {round}");
        }
        user(&app, &next).get("/v1/growers").await.assert_status(200);
        session = next;
    }
}

#[tokio::test]
async fn a_token_that_comes_again_ends_the_session_for_thief_and_owner() {
    let app = TestApp::start().await;
    let first = sign_in(&app, "advisor").await;
    let elsewhere = sign_in(&app, "advisor").await;
    let second = refresh(&app.nobody, &first).await.assert_status(200).json();
    app.clock.advance(TimeDelta::seconds(60));
    refresh(&app.nobody, &first).await.assert_problem(401, "session_ended");
    refresh(&app.nobody, &second).await.assert_problem(401, "session_ended");
    for session in [&first, &second] {
        let out = user(&app, session).get("/v1/growers").await;
        out.assert_problem(401, "unauthenticated");
    }
    user(&app, &elsewhere).get("/v1/growers").await.assert_status(200);
    refresh(&app.nobody, &elsewhere).await.assert_status(200);
}

#[tokio::test]
async fn a_lost_answer_is_given_again_for_a_minute_and_the_same() {
    let app = TestApp::start().await;
    let first = sign_in(&app, "grower").await;
    let lost = refresh(&app.nobody, &first).await.assert_status(200).json();
    app.clock.advance(TimeDelta::seconds(59));
    let again = refresh(&app.nobody, &first).await.assert_status(200).json();
    assert_eq!(again["refresh_token"], lost["refresh_token"]);
    user(&app, &again).get("/v1/growers").await.assert_status(200);
    refresh(&app.nobody, &again).await.assert_status(200);
}

#[tokio::test]
async fn once_the_successor_was_used_the_token_before_it_is_a_copy_at_once() {
    let app = TestApp::start().await;
    let first = sign_in(&app, "grower").await;
    let second = refresh(&app.nobody, &first).await.assert_status(200).json();
    let third = refresh(&app.nobody, &second).await.assert_status(200).json();
    refresh(&app.nobody, &first).await.assert_problem(401, "session_ended");
    refresh(&app.nobody, &third).await.assert_problem(401, "session_ended");
}

#[tokio::test]
async fn of_many_refreshes_at_once_one_spends_the_token() {
    let app = TestApp::start_with(|settings| settings.workers = 4).await;
    let first = sign_in(&app, "advisor").await;
    let mut under_way = JoinSet::new();
    for _ in 0..8 {
        let (nobody, first) = (app.nobody.clone(), first.clone());
        under_way.spawn(async move { refresh(&nobody, &first).await });
    }
    let mut given: Vec<Value> = Vec::new();
    for answer in under_way.join_all().await {
        given.push(answer.assert_status(200).json()["refresh_token"].clone());
    }
    assert!(given.iter().all(|token| *token == given[0]), "one successor: {given:?}");
    let tokens = tokens(&app).await;
    assert_eq!(tokens.len(), 2);
    assert_eq!(tokens.iter().filter(|token| token.used_at.is_none()).count(), 1);
}

#[tokio::test]
async fn a_grower_without_signal_for_weeks_stays_signed_in_but_not_for_ever() {
    let app = TestApp::start().await;
    let mut session = sign_in(&app, "grower").await;
    assert_eq!(session["idle_expires_at"], "2027-05-20T12:00:00Z");
    assert_eq!(session["expires_at"], "2027-10-17T12:00:00Z");
    for _ in 0..6 {
        app.clock.advance(TimeDelta::days(29));
        session = refresh(&app.nobody, &session).await.assert_status(200).json();
    }
    assert_eq!(session["idle_expires_at"], session["expires_at"], "180 days at the most");
    app.clock.set("2027-10-17T11:59:00Z".parse().expect("time"));
    session = refresh(&app.nobody, &session).await.assert_status(200).json();
    assert_eq!(session["expires_in"], 60, "no token outlives its session");
    app.clock.advance(TimeDelta::minutes(1));
    refresh(&app.nobody, &session).await.assert_problem(401, "session_ended");
}

#[tokio::test]
async fn a_session_that_nobody_used_is_over() {
    let app = TestApp::start_with(|settings| settings.session_idle_days = 2).await;
    let (used, left) = (sign_in(&app, "grower").await, sign_in(&app, "grower").await);
    app.clock.advance(TimeDelta::hours(47));
    let used = refresh(&app.nobody, &used).await.assert_status(200).json();
    app.clock.advance(TimeDelta::hours(1));
    refresh(&app.nobody, &left).await.assert_problem(401, "session_ended");
    refresh(&app.nobody, &used).await.assert_status(200);
}

#[tokio::test]
async fn whatever_is_wrong_with_a_refresh_token_the_answer_is_the_same() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "advisor").await;
    let good = session["refresh_token"].as_str().expect("a token");
    let mut bodies = Vec::new();
    for token in ["x", &good[1..], &format!("{good} "), &good.repeat(100)] {
        let body = json!({"refresh_token": token});
        let answer = app.nobody.post("/v1/sessions/refresh", &body).await;
        let mut body = answer.assert_problem(401, "session_ended").json();
        body["request_id"] = json!(null);
        bodies.push(body);
    }
    assert!(bodies.iter().all(|body| *body == bodies[0]));
    let access = json!({"refresh_token": session["access_token"]});
    app.nobody.post("/v1/sessions/refresh", &access).await.assert_problem(401, "session_ended");
    refresh(&app.nobody, &session).await.assert_status(200);
}

#[tokio::test]
async fn no_token_is_kept_in_clear() {
    let app = TestApp::start().await;
    let first = sign_in(&app, "advisor").await;
    let second = refresh(&app.nobody, &first).await.assert_status(200).json();
    let kept = format!("{:?}", tokens(&app).await);
    for session in [&first, &second] {
        let token = session["refresh_token"].as_str().expect("a token");
        assert_eq!(token.len(), 43);
        assert!(!kept.contains(token));
    }
}

#[tokio::test]
async fn what_ended_long_ago_goes_when_the_account_signs_in() {
    let app = TestApp::start().await;
    for _ in 0..3 {
        let session = sign_in(&app, "advisor").await;
        refresh(&app.nobody, &session).await.assert_status(200);
    }
    let other = sign_in(&app, "grower").await;
    app.clock.advance(TimeDelta::days(61));
    sign_in(&app, "advisor").await;
    let db = &app.state().db;
    let left = sessions::Entity::find().all(db).await.expect("sessions");
    assert_eq!(left.len(), 2, "the new one, and that of another account: {left:?}");
    assert!(left.iter().any(|session| other["id"] == session.id.to_string()));
    assert_eq!(refresh_tokens::Entity::find().count(db).await.expect("a count"), 2);
}
