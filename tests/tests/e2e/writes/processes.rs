//! Two processes on one database.

use std::time::Duration;

use api::app::{App, Config, Running};
use sea_orm::DbBackend;
use serde_json::json;
use tests::{TestApp, User};
use tokio::sync::oneshot;

use super::held::{actor, make, write};
use super::{growers_named, post, replayed};

async fn another(app: &TestApp) -> (Running, User) {
    let config = Config::with_clock(app.state().settings.clone(), app.clock.clone());
    let running = App::build(config).await.expect("a second process");
    let user = app.lead.at(&format!("http://{}", running.address));
    (running, user)
}

#[tokio::test]
async fn what_one_process_did_another_answers_again() {
    let app = TestApp::start().await;
    let (running, there) = another(&app).await;
    let body = json!({"name": "Two processes"});
    let first = post(&app.lead, "/v1/growers", "k", &body).await.assert_status(201);
    let again = post(&there, "/v1/growers", "k", &body).await.assert_status(201);
    assert_eq!((replayed(&again), &again.text), (true, &first.text));
    let other = post(&there, "/v1/growers", "k", &json!({"name": "Other"})).await;
    other.assert_problem(422, "key_reused");
    running.stop().await.expect("a good end");
}

/// PostgreSQL refuses at once; SQLite has one writer, so the second waits for the first and is
/// answered with what it did. Either way it is done once.
#[tokio::test]
async fn a_key_in_flight_in_another_process_is_seen() {
    let app = TestApp::start().await;
    let (running, there) = another(&app).await;
    let body = json!({"name": "Slow elsewhere"});
    let (by, held) = (actor(&app, &app.lead).await, write("slow", &body).await);
    let (begun, has_begun) = oneshot::channel();
    let (go_on, may_go_on) = oneshot::channel::<()>();
    let first = held.run(app.state(), by, async |tx| {
        let done = make(&app, tx, by, "Slow elsewhere").await;
        begun.send(()).expect("someone waits");
        may_go_on.await.expect("told to");
        done
    });
    let second = async {
        has_begun.await.expect("begins");
        let sent = tokio::spawn({
            let (there, body) = (there.clone(), body.clone());
            async move { post(&there, "/v1/growers", "slow", &body).await }
        });
        if app.state().db.get_database_backend() == DbBackend::Postgres {
            sent.await.expect("an answer").assert_problem(409, "request_under_way");
            go_on.send(()).expect("the first waits");
        } else {
            tokio::time::sleep(Duration::from_millis(300)).await;
            assert!(!sent.is_finished(), "it waits for the writer");
            go_on.send(()).expect("the first waits");
            let answer = sent.await.expect("an answer").assert_status(201);
            assert!(replayed(&answer));
        }
    };
    let (first, ()) = tokio::join!(first, second);
    first.expect("carried out");
    let again = post(&there, "/v1/growers", "slow", &body).await.assert_status(201);
    assert!(replayed(&again));
    assert_eq!(growers_named(&app.lead, "Slow elsewhere").await, 1);
    running.stop().await.expect("a good end");
}
