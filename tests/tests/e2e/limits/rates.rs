//! How many requests a caller may make.

use chrono::TimeDelta;
use serde_json::json;
use tests::{Answer, TestApp};

const GROWERS: &str = "/v1/growers";

async fn few_reads() -> TestApp {
    TestApp::start_with(|settings| settings.limits.reads_per_minute = 3).await
}

#[track_caller]
fn assert_refused(answer: Answer, class: &str, wait: &str) {
    let answer = answer.assert_problem(429, "too_many_requests");
    assert_eq!(answer.header("retry-after"), wait);
    assert_eq!(answer.header("ratelimit"), format!("\"{class}\";r=0;t={wait}"));
}

#[tokio::test]
async fn a_caller_is_told_what_is_left_and_refused_when_nothing_is() {
    let app = few_reads().await;
    for (left, back) in [(2, 20), (1, 40), (0, 60)] {
        let answer = app.lead.get(GROWERS).await.assert_status(200);
        assert_eq!(answer.header("ratelimit-policy"), "\"reads\";q=3;w=60");
        assert_eq!(answer.header("ratelimit"), format!("\"reads\";r={left};t={back}"));
    }
    assert_refused(app.lead.get(GROWERS).await, "reads", "20");
    assert_refused(app.lead.get("/v1/nowhere").await, "reads", "20");
    app.advisor.get(GROWERS).await.assert_status(200);
    app.lead.post(GROWERS, &json!({"name": "A write"})).await.assert_status(201);
    app.clock.advance(TimeDelta::seconds(20));
    app.lead.get(GROWERS).await.assert_status(200);
    assert_refused(app.lead.get(GROWERS).await, "reads", "20");
}

#[tokio::test]
async fn a_refused_write_writes_nothing_and_errors_count_too() {
    let app = TestApp::start_with(|settings| settings.limits.writes_per_minute = 3).await;
    // The first of them made the grower of every test.
    app.lead.post(GROWERS, &json!({"name": ""})).await.assert_problem(422, "invalid_request");
    let answer = app.lead.post(GROWERS, &json!({"name": "One"})).await.assert_status(201);
    assert_eq!(answer.header("ratelimit"), "\"writes\";r=0;t=60");
    assert_refused(app.lead.post(GROWERS, &json!({"name": "Two"})).await, "writes", "20");
    let page = app.lead.get(GROWERS).await.assert_status(200).json();
    assert_eq!(page["items"].as_array().map(Vec::len), Some(2), "{page}");
}

#[tokio::test]
async fn callers_that_nobody_knows_share_the_store_of_their_network() {
    let app = few_reads().await;
    for n in 0..3 {
        let user = app.nobody.with_token(&format!("made.up.{n}"));
        user.get(GROWERS).await.assert_problem(401, "unauthenticated");
    }
    assert_refused(app.nobody.get(GROWERS).await, "reads", "20");
    app.lead.get(GROWERS).await.assert_status(200);
}

#[tokio::test]
async fn a_forged_token_uses_up_nothing_of_the_account_that_it_names() {
    let app = few_reads().await;
    let token = app.lead.token.clone().expect("a token");
    let (claims, _) = token.rsplit_once('.').expect("a signature");
    let forged = app.nobody.with_token(&format!("{claims}.{}", "A".repeat(86)));
    for _ in 0..3 {
        forged.get(GROWERS).await.assert_problem(401, "unauthenticated");
    }
    assert_refused(forged.get(GROWERS).await, "reads", "20");
    let answer = app.lead.get(GROWERS).await.assert_status(200);
    assert_eq!(answer.header("ratelimit"), "\"reads\";r=2;t=20");
}

#[tokio::test]
async fn signing_in_has_a_limit_of_its_own_by_network() {
    let app = TestApp::start_with(|settings| settings.limits.sign_ins_per_minute = 2).await;
    let try_as =
        |name: &str| json!({"email": format!("{name}@example.org"), "password": "wrong one"});
    for (user, name) in [(&app.nobody, "ann"), (&app.lead, "bob")] {
        let answer = user.post("/v1/sessions", &try_as(name)).await;
        answer.assert_problem(401, "wrong_credentials");
    }
    for (user, name) in [(&app.nobody, "cem"), (&app.lead, "dot")] {
        assert_refused(user.post("/v1/sessions", &try_as(name)).await, "sign_ins", "30");
    }
    app.lead.post(GROWERS, &json!({"name": "A write"})).await.assert_status(201);
}

#[tokio::test]
async fn the_health_of_the_service_may_be_asked_for_ever() {
    let app = few_reads().await;
    for _ in 0..6 {
        let answer = app.nobody.get("/health/live").await.assert_status(200);
        assert!(!answer.has_header("ratelimit"));
    }
}

#[tokio::test]
async fn a_limit_of_nothing_is_no_limit() {
    let app = TestApp::start().await;
    let answer = app.lead.get(GROWERS).await.assert_status(200);
    assert!(!answer.has_header("ratelimit") && !answer.has_header("ratelimit-policy"));
}
