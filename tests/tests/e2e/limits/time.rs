//! A request that takes too long.

use std::time::{Duration, Instant};

use api::config::Engine;
use sea_orm::ConnectionTrait;
use serde_json::json;
use tests::TestApp;

#[tokio::test]
async fn a_request_that_takes_too_long_is_503_and_nothing_is_written() {
    let app = TestApp::start_with(|settings| settings.limits.request_seconds = 1).await;
    let state = app.state();
    // Someone else holds what the request needs.
    let other = api::db::begin(&state.db).await.expect("a transaction");
    if state.settings.database_url.engine() == Engine::Postgres {
        let lock = "LOCK TABLE growers IN ACCESS EXCLUSIVE MODE";
        other.execute_unprepared(lock).await.expect("locked");
    }
    let body = json!({"name": "Too late"});
    let started = Instant::now();
    let answer = app.lead.post("/v1/growers", &body).await.assert_problem(503, "unavailable");
    assert_eq!(answer.header("retry-after"), "5");
    let took = started.elapsed();
    assert!(took >= Duration::from_millis(900) && took < Duration::from_secs(4), "{took:?}");
    other.rollback().await.expect("let go");
    let names = || async {
        let page = app.lead.get("/v1/growers").await.assert_status(200).json();
        page.to_string().matches("Too late").count()
    };
    assert_eq!(names().await, 0);
    app.lead.post("/v1/growers", &body).await.assert_status(201);
    assert_eq!(names().await, 1);
}
