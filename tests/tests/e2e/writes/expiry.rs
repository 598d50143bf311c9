//! Keys are kept for 48 hours.

use std::time::Duration;

use api::entities::idempotency_keys::{Column, Entity};
use chrono::TimeDelta;
use sea_orm::{ColumnTrait, EntityTrait, PaginatorTrait, QueryFilter};
use serde_json::json;
use tests::{TestApp, User};

use super::{growers_named, post, replayed};

/// The token of the test has expired long before a key does.
async fn signed_in(app: &TestApp) -> User {
    let body = json!({"email": "lead@example.org", "password": "a long enough one"});
    let session = app.nobody.post("/v1/sessions", &body).await.assert_status(201).json();
    app.lead.with_token(session["access_token"].as_str().expect("a token"))
}

#[tokio::test]
async fn a_key_is_forgotten_after_48_hours_and_swept_out() {
    let app = TestApp::start().await;
    let body = json!({"name": "Two days"});
    let first = post(&app.lead, "/v1/growers", "k", &body).await.assert_status(201);
    post(&app.lead, "/v1/growers", "other", &json!({"name": "B"})).await.assert_status(201);
    let (until, second) = (TimeDelta::hours(48), TimeDelta::seconds(1));
    app.clock.advance(until - second);
    let lead = signed_in(&app).await;
    assert!(replayed(&post(&lead, "/v1/growers", "k", &body).await.assert_status(201)));
    lead.delete(&format!("/v1/growers/{}", first.id())).await.assert_status(204);
    app.clock.advance(second);
    let anew = post(&lead, "/v1/growers", "k", &body).await.assert_status(201);
    assert!(!replayed(&anew));
    assert_ne!(anew.id(), first.id());
    assert_eq!(growers_named(&lead, "Two days").await, 1);
    // The new one is kept in the place of the old one.
    assert!(replayed(&post(&lead, "/v1/growers", "k", &body).await.assert_status(201)));
    let now = app.state().clock.now();
    for _ in 0..100 {
        let expired = Entity::find().filter(Column::ExpiresAt.lte(now));
        if expired.count(&app.state().db).await.expect("count") == 0 {
            assert!(Entity::find().count(&app.state().db).await.expect("count") >= 1);
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("expired keys are still there");
}
