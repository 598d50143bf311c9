//! Signing in, staying signed in, signing out.

mod bad_tokens;
mod own;
mod refresh;
mod throttle;

use serde_json::{Value, json};
use tests::{Answer, TestApp, User};

/// Signs in with the password of all test accounts.
pub(crate) async fn sign_in(app: &TestApp, name: &str) -> Value {
    let body = json!({"email": format!("{name}@example.org"), "password": "a long enough one"});
    app.nobody.post("/v1/sessions", &body).await.assert_status(201).json()
}

/// Sends the refresh token of a session.
pub(crate) async fn refresh(nobody: &User, session: &Value) -> Answer {
    let body = json!({"refresh_token": session["refresh_token"]});
    nobody.post("/v1/sessions/refresh", &body).await
}

/// The user of a session.
pub(crate) fn user(app: &TestApp, session: &Value) -> User {
    app.nobody.with_token(session["access_token"].as_str().expect("a token"))
}

#[tokio::test]
async fn signing_in_gives_a_token_and_the_account() {
    let app = TestApp::start().await;
    let body = json!({"email": "Advisor@Example.ORG", "password": "a long enough one"});
    let answer = app.nobody.post("/v1/sessions", &body).await.assert_status(201);
    assert_eq!(answer.header("cache-control"), "no-store");
    let session = answer.json();
    assert_eq!(session["token_type"], "Bearer");
    assert_eq!(session["expires_in"], 900);
    assert_eq!(session["account"]["email"], "advisor@example.org");
    assert_eq!(session["account"]["role"], "advisor");
    assert_eq!(session["account"]["practice"], "Prairie Advisors");
    let user = app.nobody.with_token(session["access_token"].as_str().expect("token"));
    user.get("/v1/accounts/me").await.assert_status(200);
}

#[tokio::test]
async fn a_wrong_password_and_an_unknown_address_answer_alike() {
    let app = TestApp::start().await;
    let mut bodies = Vec::new();
    for email in ["lead@example.org", "nobody@example.org"] {
        let body = json!({"email": email, "password": "not the right one"});
        let answer = app.nobody.post("/v1/sessions", &body).await;
        let mut body = answer.assert_problem(401, "wrong_credentials").json();
        body["request_id"] = json!(null);
        bodies.push(body);
    }
    assert_eq!(bodies[0], bodies[1]);
}

#[tokio::test]
async fn after_five_wrong_passwords_an_address_waits() {
    let app = TestApp::start().await;
    let wrong = json!({"email": "lead@example.org", "password": "not the right one"});
    let right = json!({"email": "lead@example.org", "password": "a long enough one"});
    for _ in 0..5 {
        app.nobody.post("/v1/sessions", &wrong).await.assert_problem(401, "wrong_credentials");
    }
    let waits = app.nobody.post("/v1/sessions", &right).await;
    let waits = waits.assert_problem(429, "too_many_requests");
    assert_eq!(waits.header("retry-after"), "900");
    let other = json!({"email": "advisor@example.org", "password": "a long enough one"});
    app.nobody.post("/v1/sessions", &other).await.assert_status(201);
    app.clock.advance(chrono::TimeDelta::minutes(15));
    app.nobody.post("/v1/sessions", &right).await.assert_status(201);
}

#[tokio::test]
async fn a_disabled_account_is_out_at_once() {
    use api::entities::accounts;
    use sea_orm::{ActiveModelTrait, ActiveValue::Set, ColumnTrait, EntityTrait, QueryFilter};

    let app = TestApp::start().await;
    app.advisor.get("/v1/growers").await.assert_status(200);
    let db = &app.state().db;
    let row = accounts::Entity::find()
        .filter(accounts::Column::Email.eq("advisor@example.org"))
        .one(db)
        .await
        .expect("query")
        .expect("account");
    let disabled = accounts::ActiveModel {
        practice_id: Set(row.practice_id),
        id: Set(row.id),
        disabled_at: Set(Some(app.state().clock.now())),
        ..Default::default()
    };
    disabled.update(db).await.expect("disabled");
    app.advisor.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    let body = json!({"email": "advisor@example.org", "password": "a long enough one"});
    app.nobody.post("/v1/sessions", &body).await.assert_problem(401, "wrong_credentials");
}
