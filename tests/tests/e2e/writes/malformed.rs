//! Headers that are no key.

use serde_json::json;
use tests::TestApp;

use super::{growers_named, post};

#[tokio::test]
async fn a_header_that_is_no_key_is_named() {
    let app = TestApp::start().await;
    let body = json!({"name": "No key"});
    let long = "k".repeat(256);
    for key in
        ["", "\"\"", "a b", "\"a b\"", "\"open", "\"a\"b\"", "\"a\"; p=1", "caf\u{e9}", &long]
    {
        let answer = post(&app.lead, "/v1/growers", key, &body).await;
        let member = answer.assert_problem(422, "invalid_request").assert_member("idempotency-key");
        assert!(member["allowed"].as_str().expect("said").contains("255"), "{member}");
    }
    let two = [("idempotency-key", "a"), ("idempotency-key", "b")];
    let answer = app.lead.send("POST", "/v1/growers", &two, Some(&body)).await;
    answer.assert_problem(422, "invalid_request").assert_member("idempotency-key");
    assert_eq!(growers_named(&app.lead, "No key").await, 0);
    // Who is not signed in learns nothing about keys.
    post(&app.nobody, "/v1/growers", "a b", &body).await.assert_problem(401, "unauthenticated");
    post(&app.lead, "/v1/growers", &"k".repeat(255), &body).await.assert_status(201);
}
