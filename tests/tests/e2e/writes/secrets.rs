//! An answer that holds a secret is given once and never kept.

use api::entities::idempotency_keys;
use api::http::{Answer, ProblemCode};
use api::writes::{Done, Touched, Written, forget_answers};
use sea_orm::EntityTrait;
use serde_json::json;
use tests::TestApp;

use super::held::{actor, write};
use super::{events, post};

#[tokio::test]
async fn a_secret_is_not_given_again_and_not_kept() {
    let app = TestApp::start().await;
    let by = actor(&app, &app.lead).await;
    let (body, secret) = (json!({"password": "hunter2 hunter2"}), "s3cr3t-token");
    let trail = events(&app).await.len();
    for first in [true, false] {
        let answer = write("once", &body).await.run(app.state(), by, async |_tx| {
            assert!(first, "it is not carried out again");
            let answer = Answer::created("/v1/x/1".to_owned(), json!({"token": secret})).secret();
            Ok(Done::new(Touched::new("access_link", "1"), answer))
        });
        match answer.await {
            Ok(answer) => assert!(first && matches!(answer, Written::Now(_))),
            Err(error) => {
                assert!(!first);
                assert_eq!(error.code(), ProblemCode::AnswerNotKept);
            }
        }
    }
    assert_eq!(events(&app).await.len(), trail + 1);
    let rows = idempotency_keys::Entity::find().all(&app.state().db).await.expect("rows");
    assert_eq!(rows.len(), 1);
    assert_eq!((&rows[0].fingerprint, &rows[0].body, &rows[0].location), (&None, &None, &None));
    let said = format!("{rows:?} {:?}", events(&app).await);
    assert!(
        !said.contains(secret) && !said.contains("hunter2") && !said.contains("once"),
        "{said}"
    );
}

#[tokio::test]
async fn answers_can_be_forgotten_while_the_keys_still_hold() {
    let app = TestApp::start().await;
    let by = actor(&app, &app.lead).await;
    let body = json!({"name": "To be erased", "phone": "555 0199"});
    post(&app.lead, "/v1/growers", "k", &body).await.assert_status(201);
    let theirs = post(&app.stranger, "/v1/growers", "k", &body).await.assert_status(201);
    forget_answers(&app.state().db, by.practice_id).await.expect("forgotten");
    post(&app.lead, "/v1/growers", "k", &body).await.assert_problem(409, "answer_not_kept");
    let again = post(&app.stranger, "/v1/growers", "k", &body).await.assert_status(201);
    assert_eq!(again.text, theirs.text, "another practice keeps its answers");
}
