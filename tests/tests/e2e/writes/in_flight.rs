//! A request that comes again while the first is still being carried out, or was broken off.

use std::collections::BTreeSet;
use std::future::pending;

use api::entities::idempotency_keys;
use api::http::ApiError;
use api::writes::Done;
use sea_orm::{EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::TestApp;
use tokio::sync::oneshot;

use super::held::{actor, make, write};
use super::{events, growers_named, post, replayed};

#[tokio::test]
async fn a_key_in_flight_is_409_until_its_request_has_ended() {
    let app = TestApp::start().await;
    let body = json!({"name": "Slow"});
    let (by, held) = (actor(&app, &app.lead).await, write("slow", &body).await);
    let (begun, has_begun) = oneshot::channel();
    let (go_on, may_go_on) = oneshot::channel::<()>();
    let first = held.run(app.state(), by, async |tx| {
        let done = make(&app, tx, by, "Slow").await;
        begun.send(()).expect("someone waits");
        may_go_on.await.expect("told to");
        done
    });
    let second = async {
        has_begun.await.expect("begins");
        let refused = post(&app.lead, "/v1/growers", "slow", &body).await;
        let refused = refused.assert_problem(409, "request_under_way");
        assert_eq!(refused.header("retry-after"), "1");
        go_on.send(()).expect("the first waits");
    };
    let (first, ()) = tokio::join!(first, second);
    first.expect("carried out");
    let again = post(&app.lead, "/v1/growers", "slow", &body).await.assert_status(201);
    assert!(replayed(&again));
    assert_eq!(growers_named(&app.lead, "Slow").await, 1);
}

#[tokio::test]
async fn a_request_that_is_broken_off_leaves_nothing() {
    let app = TestApp::start().await;
    let body = json!({"name": "Broken off"});
    let (by, held) = (actor(&app, &app.lead).await, write("gone", &body).await);
    let trail = events(&app).await.len();
    let (begun, has_begun) = oneshot::channel();
    let first = held.run(app.state(), by, async |tx| {
        make(&app, tx, by, "Broken off").await?;
        begun.send(()).expect("someone waits");
        pending::<Result<Done<Value>, ApiError>>().await
    });
    // The transaction goes with the future, as it does when the process dies.
    tokio::select! {
        _ = first => panic!("it never ends"),
        begun = has_begun => begun.expect("the effect was there, not committed"),
    }
    assert_eq!(growers_named(&app.lead, "Broken off").await, 0);
    assert_eq!(events(&app).await.len(), trail);
    let keys = idempotency_keys::Entity::find().count(&app.state().db).await.expect("count");
    assert_eq!(keys, 0);
    let again = post(&app.lead, "/v1/growers", "gone", &body).await.assert_status(201);
    assert!(!replayed(&again), "the key is free");
    assert_eq!(events(&app).await.len(), trail + 1);
}

#[tokio::test]
async fn an_effect_that_fails_late_leaves_nothing() {
    let app = TestApp::start().await;
    let body = json!({"name": "Fails late"});
    let (by, held) = (actor(&app, &app.lead).await, write("late", &body).await);
    let trail = events(&app).await.len();
    let failed = held.run(app.state(), by, async |tx| {
        let done = make(&app, tx, by, "Fails late").await?;
        make(&app, tx, by, "Fails late").await?;
        Ok(done)
    });
    let error = failed.await.expect_err("the name is taken");
    assert_eq!(error.code().code(), "already_exists");
    assert_eq!(growers_named(&app.lead, "Fails late").await, 0);
    assert_eq!(events(&app).await.len(), trail);
    post(&app.lead, "/v1/growers", "late", &body).await.assert_status(201);
}

#[tokio::test]
async fn twenty_at_once_make_one_object() {
    let app = TestApp::start().await;
    let body = json!({"name": "Twenty"});
    let send = || {
        let (user, body) = (app.lead.clone(), body.clone());
        tokio::spawn(async move { post(&user, "/v1/growers", "twenty", &body).await })
    };
    let sent: Vec<_> = (0..20).map(|_| send()).collect();
    let (mut ids, mut fresh) = (BTreeSet::new(), 0);
    for answer in sent {
        let answer = answer.await.expect("an answer");
        if answer.status == 409 {
            answer.assert_problem(409, "request_under_way");
        } else {
            let answer = answer.assert_status(201);
            fresh += u32::from(!replayed(&answer));
            ids.insert(answer.id());
        }
    }
    assert_eq!((ids.len(), fresh), (1, 1));
    assert_eq!(growers_named(&app.lead, "Twenty").await, 1);
}
