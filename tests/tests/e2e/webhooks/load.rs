//! How fast notices go out. Run it alone:
//!
//! `cargo test --release -p tests --test e2e ten_thousand_events -- --ignored --nocapture`

use std::time::{Duration, Instant};

use api::changes::{self, Change, ChangeType};
use api::db;
use serde_json::json;
use tests::TestApp;

use super::{Hook, Receiver, Reply};

const EVENTS: usize = 10_000;

/// That many changes, in one transaction; they are told from the moment it is committed.
async fn happen(app: &TestApp) {
    let state = app.state();
    let made: Vec<Change> =
        (0..EVENTS).map(|_| Change::new(ChangeType::FieldChanged, state.ids.next())).collect();
    let tx = db::begin(&state.db).await.expect("a transaction");
    changes::append(&tx, state, app.practice_id, &made).await.expect("appended");
    tx.commit().await.expect("committed");
    state.notices.wake();
}

async fn measure(app: &TestApp, healthy: &Receiver) -> Duration {
    healthy.take();
    happen(app).await;
    let began = Instant::now();
    assert!(healthy.wait_for(EVENTS, Duration::from_secs(120)).await, "{}", healthy.count());
    let took = began.elapsed();
    let ids: std::collections::BTreeSet<String> =
        healthy.take().into_iter().map(|it| it.id).collect();
    assert_eq!(ids.len(), EVENTS, "each once");
    took
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
#[ignore = "measures"]
async fn ten_thousand_events_reach_a_healthy_receiver_whoever_else_is_down() {
    let app = TestApp::start_with(|settings| settings.job_seconds = 1).await;
    let healthy = Receiver::start().await;
    Hook::make(&app, &healthy.url, json!({})).await;
    let alone = measure(&app, &healthy).await;

    let (down, hanging) = (Receiver::start().await, Receiver::start().await);
    down.stop().await;
    hanging.answers(|_| Reply { after: Duration::from_secs(60), ..Reply::of(200) });
    for url in [&down.url, &hanging.url] {
        Hook::make(&app, url, json!({})).await;
    }
    let beside = measure(&app, &healthy).await;
    println!(
        "{EVENTS} events: alone {alone:?}, beside one that is down and one that hangs {beside:?}"
    );
    assert!(alone < Duration::from_secs(30), "{alone:?}");
    assert!(beside < Duration::from_secs(30), "{beside:?}");
}
