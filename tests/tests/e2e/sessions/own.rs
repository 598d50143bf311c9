//! Where one is signed in, and signing out.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::TestApp;

use super::{refresh, sign_in, user};

fn ids(page: &Value) -> Vec<&str> {
    let items = page["items"].as_array().expect("items");
    items.iter().map(|item| item["id"].as_str().expect("id")).collect()
}

#[tokio::test]
async fn one_sees_where_one_is_signed_in_and_nobody_elses() {
    let app = TestApp::start().await;
    let phone = sign_in(&app, "grower").await;
    app.clock.advance(TimeDelta::minutes(5));
    let tablet = sign_in(&app, "grower").await;
    sign_in(&app, "advisor").await;
    let list = user(&app, &tablet).get("/v1/sessions").await.assert_status(200).json();
    let wanted = json!({"items": [
        {
            "id": phone["id"], "signed_in_with": "password", "present": false,
            "created_at": "2027-04-20T12:00:00Z", "refreshed_at": "2027-04-20T12:00:00Z",
            "idle_expires_at": "2027-05-20T12:00:00Z", "expires_at": "2027-10-17T12:00:00Z"
        },
        {
            "id": tablet["id"], "signed_in_with": "password", "present": true,
            "created_at": "2027-04-20T12:05:00Z", "refreshed_at": "2027-04-20T12:05:00Z",
            "idle_expires_at": "2027-05-20T12:05:00Z", "expires_at": "2027-10-17T12:05:00Z"
        }
    ]});
    assert_eq!(list, wanted);
    let path = format!("/v1/sessions/{}", phone["id"].as_str().expect("id"));
    let one = user(&app, &tablet).get(&path).await.assert_status(200).json();
    assert_eq!(one, wanted["items"][0]);
}

#[tokio::test]
async fn a_lost_device_is_shut_out_at_once_and_the_other_goes_on() {
    let app = TestApp::start().await;
    let (lost, here) = (sign_in(&app, "grower").await, sign_in(&app, "grower").await);
    let path = format!("/v1/sessions/{}", lost["id"].as_str().expect("id"));
    user(&app, &here).delete(&path).await.assert_status(204);
    user(&app, &lost).get("/v1/growers").await.assert_problem(401, "unauthenticated");
    refresh(&app.nobody, &lost).await.assert_problem(401, "session_ended");
    user(&app, &here).delete(&path).await.assert_problem(404, "not_found");
    user(&app, &here).get(&path).await.assert_problem(404, "not_found");
    let list = user(&app, &here).get("/v1/sessions").await.json();
    assert_eq!(ids(&list), [here["id"].as_str().expect("id")]);
}

#[tokio::test]
async fn nobody_ends_the_session_of_another() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "grower").await;
    let path = format!("/v1/sessions/{}", session["id"].as_str().expect("id"));
    for other in [&app.lead, &app.advisor, &app.stranger] {
        other.get(&path).await.assert_problem(404, "not_found");
        other.delete(&path).await.assert_problem(404, "not_found");
    }
    user(&app, &session).get("/v1/growers").await.assert_status(200);
}

#[tokio::test]
async fn signing_out_stops_both_tokens_at_once() {
    let app = TestApp::start().await;
    let session = sign_in(&app, "advisor").await;
    user(&app, &session).delete("/v1/sessions/present").await.assert_status(204);
    user(&app, &session).get("/v1/growers").await.assert_problem(401, "unauthenticated");
    refresh(&app.nobody, &session).await.assert_problem(401, "session_ended");
    let again = user(&app, &session).delete("/v1/sessions/present").await;
    again.assert_problem(401, "unauthenticated");
}

/// The tokens of test users have no session, as those of machine clients.
#[tokio::test]
async fn a_token_without_a_session_has_none_to_end() {
    let app = TestApp::start().await;
    app.advisor.delete("/v1/sessions/present").await.assert_problem(404, "not_found");
    assert_eq!(app.advisor.get("/v1/sessions").await.json()["items"], json!([]));
}
