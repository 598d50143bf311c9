//! The same request with the same key is carried out once.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{events, growers_named, post, replayed};

#[tokio::test]
async fn the_same_request_has_the_same_answer_and_makes_one_object() {
    let app = TestApp::start().await;
    let body = json!({"name": "Stone Creek", "phone": "555 0100"});
    let first = post(&app.lead, "/v1/growers", "k-1", &body).await.assert_status(201);
    assert!(!first.has_header("idempotency-replayed"));
    let trail = events(&app).await.len();
    // Bare or quoted, members in any order: it says the same.
    let quoted = post(&app.lead, "/v1/growers", "\"k-1\"", &body).await.assert_status(201);
    let other_way = r#"{ "phone" : "555 0100", "name":"Stone Creek" }"#.to_owned();
    let headers = [("idempotency-key", "k-1"), ("content-type", "application/json")];
    let turned = app.lead.send_text("POST", "/v1/growers", &headers, Some(other_way)).await;
    for again in [quoted, turned.assert_status(201)] {
        assert!(replayed(&again));
        assert_eq!(again.text, first.text);
        for header in ["etag", "location", "content-type"] {
            assert!(again.has_header(header), "{header}");
            assert_eq!(again.header(header), first.header(header));
        }
    }
    assert_eq!(growers_named(&app.lead, "Stone Creek").await, 1);
    assert_eq!(events(&app).await.len(), trail, "what is answered again was not done again");
}

#[tokio::test]
async fn another_request_with_the_same_key_is_refused() {
    let app = TestApp::start().await;
    post(&app.lead, "/v1/growers", "k", &json!({"name": "One"})).await.assert_status(201);
    let other = post(&app.lead, "/v1/growers", "k", &json!({"name": "Two"})).await;
    other.assert_problem(422, "key_reused");
    assert_eq!(growers_named(&app.lead, "Two").await, 0);
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut field = Farmstead::field_body(&stead.farm);
    field["name"] = json!("South forty");
    post(&app.lead, "/v1/fields?units=si", "f", &field).await.assert_status(201);
    let query = post(&app.lead, "/v1/fields?units=us", "f", &field).await;
    query.assert_problem(422, "key_reused");
}

#[tokio::test]
async fn a_key_is_of_one_account_and_one_operation() {
    let app = TestApp::start().await;
    let body = json!({"name": "Shared key"});
    post(&app.lead, "/v1/growers", "k", &body).await.assert_status(201);
    // In the same practice the name is taken: so the request was carried out, not answered again.
    post(&app.advisor, "/v1/growers", "k", &body).await.assert_problem(409, "already_exists");
    let theirs = post(&app.stranger, "/v1/growers", "k", &body).await.assert_status(201);
    assert!(!replayed(&theirs));
    let farm = json!({"grower_id": app.own_grower_id, "name": "Shared key"});
    let farm = post(&app.lead, "/v1/farms", "k", &farm).await.assert_status(201);
    assert!(!replayed(&farm));
}

#[tokio::test]
async fn a_request_that_failed_may_be_sent_again_with_its_key() {
    let app = TestApp::start().await;
    let body = json!({"name": "Taken"});
    let before = app.lead.create("/v1/growers", &body).await;
    let trail = events(&app).await.len();
    post(&app.lead, "/v1/growers", "k", &body).await.assert_problem(409, "already_exists");
    let wrong = post(&app.lead, "/v1/growers", "k", &json!({"name": ""})).await;
    wrong.assert_problem(422, "invalid_request");
    assert_eq!(events(&app).await.len(), trail, "nothing was done");
    app.lead.delete(&format!("/v1/growers/{before}")).await.assert_status(204);
    let made = post(&app.lead, "/v1/growers", "k", &body).await.assert_status(201);
    assert!(!replayed(&made));
    assert_ne!(made.id(), before);
}

#[tokio::test]
async fn changes_and_deletions_are_answered_again_though_the_object_moved_on() {
    let app = TestApp::start().await;
    let id = app.lead.create("/v1/growers", &json!({"name": "Moves on"})).await;
    let path = format!("/v1/growers/{id}");
    let body = json!({"notes": "seen"});
    let headers = [("idempotency-key", "p"), ("if-match", "\"1\"")];
    let first = app.lead.send("PATCH", &path, &headers, Some(&body)).await.assert_status(200);
    app.lead.patch(&path, "\"2\"", &json!({"notes": "later"})).await.assert_status(200);
    let again = app.lead.send("PATCH", &path, &headers, Some(&body)).await.assert_status(200);
    assert!(replayed(&again));
    assert_eq!((again.text.as_str(), again.header("etag")), (first.text.as_str(), "\"2\""));
    let now = app.lead.get(&path).await.json();
    assert_eq!(now["notes"], "later", "the change was not made again");
    let other = [("idempotency-key", "p"), ("if-match", "\"3\"")];
    app.lead.send("PATCH", &path, &other, Some(&body)).await.assert_problem(422, "key_reused");
    for expected in [false, true] {
        let gone = app.lead.send("DELETE", &path, &[("idempotency-key", "d")], None).await;
        let gone = gone.assert_status(204);
        assert_eq!(replayed(&gone), expected);
        assert_eq!(gone.text, "");
    }
    app.lead.delete(&path).await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn steps_and_what_is_worked_out_are_answered_again() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Steps").await;
    let wanted = stead.recommendation_body(&json!({}));
    let first = post(&app.lead, "/v1/recommendations", "r", &wanted).await.assert_status(201);
    let again = post(&app.lead, "/v1/recommendations", "r", &wanted).await.assert_status(201);
    assert_eq!((replayed(&again), &again.text), (true, &first.text));
    let path = format!("/v1/recommendations/{}", first.id());
    let step = [("idempotency-key", "s"), ("if-match", "\"1\"")];
    let issue = format!("{path}/issue");
    let issued = app.lead.send("POST", &issue, &step, None).await.assert_status(200);
    let again = app.lead.send("POST", &issue, &step, None).await.assert_status(200);
    assert_eq!((replayed(&again), &again.text), (true, &issued.text));
    // Without the answer of before a second revision would be refused: the series has a draft.
    let revise = format!("{path}/revise");
    let revised = post(&app.lead, &revise, "v", &json!({})).await.assert_status(201);
    let again = post(&app.lead, &revise, "v", &json!({})).await.assert_status(201);
    assert_eq!((replayed(&again), &again.text), (true, &revised.text));
    app.lead.post(&revise, &json!({})).await.assert_problem(409, "wrong_state");
}

#[tokio::test]
async fn a_dig_that_is_there_already_is_answered_without_a_key_too() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Digs").await;
    stead.issue(&app.lead).await;
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    let body = Farmstead::dig_body();
    let first = post(&app.lead, &path, "one", &body).await.assert_status(201);
    let trail = events(&app).await.len();
    let again = post(&app.lead, &path, "one", &body).await.assert_status(201);
    assert!(replayed(&again));
    for answer in [post(&app.lead, &path, "two", &body).await, app.lead.post(&path, &body).await] {
        let there = answer.assert_status(200);
        assert!(!replayed(&there));
        assert_eq!(there.id(), first.id());
    }
    assert_eq!(events(&app).await.len(), trail);
}
